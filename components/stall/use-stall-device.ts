'use client'

import { useDevice } from '../offline/use-device'
import { NOTHING_KEPT, StallDevice } from './stall-device'

/** Everything this device knows of shows, and what can be done with it. */
export const useStallDevice = () => useDevice(() => new StallDevice(), NOTHING_KEPT)
