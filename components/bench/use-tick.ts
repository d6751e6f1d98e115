'use client'

import { useCallback, useRef } from 'react'

const TICK = { hertz: 1100, seconds: 0.025, loudness: 0.12 }
const TENTH = { hertz: 1650, seconds: 0.09, loudness: 0.16 }

/** A short tick for each animal and a higher one for each tenth, for whoever looks at the cup and not here. */
export function useTick(isOn: boolean) {
  const sound = useRef<AudioContext | null>(null)
  return useCallback(
    (isTenth: boolean) => {
      navigator.vibrate?.(isTenth ? [20, 40, 20] : 12)
      if (!isOn) return
      sound.current ??= new AudioContext()
      const { hertz, seconds, loudness } = isTenth ? TENTH : TICK
      const now = sound.current.currentTime
      const tone = sound.current.createOscillator()
      const volume = sound.current.createGain()
      tone.frequency.value = hertz
      volume.gain.setValueAtTime(loudness, now)
      volume.gain.exponentialRampToValueAtTime(0.001, now + seconds)
      tone.connect(volume).connect(sound.current.destination)
      tone.start(now)
      tone.stop(now + seconds)
    },
    [isOn],
  )
}
