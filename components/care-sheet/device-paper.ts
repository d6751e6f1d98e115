'use client'

import { useSyncExternalStore } from 'react'
import { PAPERS, type Paper } from '@/lib/domain/care-sheet/paper'

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

const readStored = () => window.localStorage.getItem(KEY)

function choosePaper(paper: Paper | null): void {
  if (paper) window.localStorage.setItem(KEY, paper)
  else window.localStorage.removeItem(KEY)
  for (const listener of listeners) listener()
}
