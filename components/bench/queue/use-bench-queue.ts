'use client'

import { useEffect, useState, useSyncExternalStore } from 'react'
import { BenchQueue, type QueueState } from './bench-queue'

/** The queue of this device, for the person who is signed in. */
export function useBenchQueue(personId: string): { queue: BenchQueue; state: QueueState } {
  const [queue] = useState(() => new BenchQueue(personId))
  const state = useSyncExternalStore(queue.subscribe, queue.getState, queue.getState)
  useEffect(() => queue.start(), [queue])
  return { queue, state }
}
