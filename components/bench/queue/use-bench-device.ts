'use client'

import { useDevice } from '../../offline/use-device'
import { BenchDevice, NOTHING_READ } from './bench-device'

/** Everything this device knows of the bench, and what can be done with it. */
export const useBenchDevice = () => useDevice(() => new BenchDevice(), NOTHING_READ)
