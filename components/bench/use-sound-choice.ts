'use client'

import { useSyncExternalStore } from 'react'

const KEY = 'bench-sound'
const CHANGED = 'bench-sound-changed'

function subscribe(listener: () => void): () => void {
  window.addEventListener(CHANGED, listener)
  return () => window.removeEventListener(CHANGED, listener)
}

/** Whether this device ticks and speaks. Kept on it, since a quiet room stays one. */
export function useSoundChoice(): [isOn: boolean, setOn: (isOn: boolean) => void] {
  const isOn = useSyncExternalStore(
    subscribe,
    () => localStorage.getItem(KEY) !== 'off',
    () => true,
  )
  const setOn = (next: boolean) => {
    localStorage.setItem(KEY, next ? 'on' : 'off')
    window.dispatchEvent(new Event(CHANGED))
  }
  return [isOn, setOn]
}
