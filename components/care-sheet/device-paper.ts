'use client'

import { useSyncExternalStore } from 'react'
import { PAPERS, type Paper } from '@/lib/domain/care-sheet/paper'
import { keepOnDevice, readDevice } from '../offline/device-storage'

const KEY = 'oothecary.paper'
const listeners = new Set<() => void>()

/** The paper in the printer that this device prints to, chosen once; null where the workspace's is used. */
export function useDevicePaper(): { paper: Paper | null; choosePaper: (paper: Paper | null) => void } {
  const stored = useSyncExternalStore(subscribe, readStored, () => null)
  return { paper: PAPERS.find((known) => known === stored) ?? null, choosePaper }
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener)
  window.addEventListener('storage', listener)
  return () => {
    listeners.delete(listener)
    window.removeEventListener('storage', listener)
  }
}

/** Where the device remembers nothing, the choice holds until the page is left. */
let onPage: Paper | null = null
const readStored = () => onPage ?? readDevice(KEY)

function choosePaper(paper: Paper | null): void {
  onPage = keepOnDevice(KEY, paper ?? '') ? null : paper
  for (const listener of listeners) listener()
}
