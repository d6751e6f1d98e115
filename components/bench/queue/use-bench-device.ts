'use client'

import { useEffect, useState, useSyncExternalStore } from 'react'
import { BenchDevice, type DeviceState, NOTHING_READ } from './bench-device'

/** Everything this device knows of the bench, and what can be done with it. */
export function useBenchDevice(): { device: BenchDevice; state: DeviceState } {
  const [device] = useState(() => new BenchDevice())
  const state = useSyncExternalStore(device.subscribe, device.getState, () => NOTHING_READ)
  useEffect(() => device.start(), [device])
  return { device, state }
}
