'use client'

import { useCallback, useRef } from 'react'

/** A wet finger that bounces is one touch. Shorter than anyone can put an animal into a cup. */
export const BOUNCE_MS = 300

/** Lets an act through unless another one was let through within the last 300 ms. `atMs` is the event's time. */
export function useTouchGuard() {
  const lastMs = useRef(Number.NEGATIVE_INFINITY)
  return useCallback((atMs: number, act: () => void) => {
    if (atMs - lastMs.current < BOUNCE_MS) return
    lastMs.current = atMs
    act()
  }, [])
}
