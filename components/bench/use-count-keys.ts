'use client'

import { useEffect, useRef } from 'react'

/** The keyboard, and what remote buttons and presenters send. */
const COUNTING_KEYS = new Set([' ', 'Enter', 'PageDown', 'AudioVolumeUp', 'MediaPlayPause', 'MediaTrackNext'])

/** Keys pressed on another button, or in a dialog above the bench, belong to that. */
function belongsElsewhere(target: EventTarget | null): boolean {
  if (!(target instanceof Element)) return false
  if (target.closest('[data-count]')) return false
  if (target.closest('[role="dialog"]')) return true
  if (target instanceof HTMLInputElement && target.type === 'radio') return false
  return target.closest('button, a, input, select, textarea, summary') !== null
}

/** One press of a counting key is one animal; a key that is held down is still one press. */
export function useCountKeys(onCount: (atMs: number) => void): void {
  const latest = useRef(onCount)
  latest.current = onCount
  useEffect(() => {
    function press(event: KeyboardEvent) {
      if (!COUNTING_KEYS.has(event.key) || event.ctrlKey || event.metaKey || event.altKey) return
      if (belongsElsewhere(event.target)) return
      event.preventDefault()
      if (!event.repeat) latest.current(event.timeStamp)
    }
    // Without this a space bar would count a second time, as the click a button makes on key-up.
    function release(event: KeyboardEvent) {
      if (event.key === ' ' && !belongsElsewhere(event.target)) event.preventDefault()
    }
    window.addEventListener('keydown', press)
    window.addEventListener('keyup', release)
    return () => {
      window.removeEventListener('keydown', press)
      window.removeEventListener('keyup', release)
    }
  }, [])
}
