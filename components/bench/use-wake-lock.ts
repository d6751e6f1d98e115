'use client'

import { useEffect, useState } from 'react'

export type WakeState = 'awake' | 'may-sleep'

/**
 * Keeps the screen on while the bench is open. The system takes the lock away whenever the page is hidden, so
 * it is asked for again on return. Needs https (or localhost); where it is refused, the bench says so.
 */
export function useWakeLock(): WakeState {
  const [state, setState] = useState<WakeState>('may-sleep')
  useEffect(() => {
    let lock: WakeLockSentinel | undefined
    let isClosed = false

    async function hold() {
      if (document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return
      try {
        lock = await navigator.wakeLock.request('screen')
        if (isClosed) return void lock.release()
        setState('awake')
        lock.addEventListener('release', () => setState('may-sleep'))
      } catch {
        // A low battery or a policy of the device: the person is told that the screen may go dark.
        setState('may-sleep')
      }
    }

    void hold()
    document.addEventListener('visibilitychange', hold)
    return () => {
      isClosed = true
      document.removeEventListener('visibilitychange', hold)
      void lock?.release()
    }
  }, [])
  return state
}
