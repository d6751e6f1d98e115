'use client'

import { useCallback } from 'react'

/** Says a count aloud, where the device can speak, for whoever has both hands and eyes on the cups. */
export function useSpeech(isOn: boolean) {
  return useCallback(
    (words: string) => {
      if (!isOn || !('speechSynthesis' in window)) return
      // A number that is still being said is old by now.
      window.speechSynthesis.cancel()
      const said = new SpeechSynthesisUtterance(words)
      said.lang = 'en'
      window.speechSynthesis.speak(said)
    },
    [isOn],
  )
}
