'use client'

import { useEffect, useState, useSyncExternalStore } from 'react'
import { NOTHING_KEPT, StallDevice, type StallState } from './stall-device'

/** Everything this device knows of shows, and what can be done with it. */
export function useStallDevice(): { device: StallDevice; state: StallState } {
  const [device] = useState(() => new StallDevice())
  const state = useSyncExternalStore(device.subscribe, device.getState, () => NOTHING_KEPT)
  useEffect(() => device.start(), [device])
  return { device, state }
}
