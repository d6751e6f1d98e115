'use client'

import { useEffect, useState, useSyncExternalStore } from 'react'
import type { Device, Shown } from './device'

/** Everything this device knows, and what can be done with it. `nothing` is what is known before the disk was read. */
export function useDevice<State extends Shown, Kind extends Device<State>>(
  make: () => Kind,
  nothing: State,
): { device: Kind; state: State } {
  const [device] = useState(make)
  const state = useSyncExternalStore(device.subscribe, device.getState, () => nothing)
  useEffect(() => device.start(), [device])
  return { device, state }
}
