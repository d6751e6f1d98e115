'use client'

import { useSyncExternalStore } from 'react'

export type BenchAddress = { workspaceId: string; run: string; moults?: number }

const UUID = '[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}'
const NAMED = new RegExp(`^#(${UUID})/(${UUID})(?:/(\\d{1,2}))?$`)

/** The run that the address names, behind the # so that it is never sent: null where it names none. */
export function readBenchAddress(hash: string): BenchAddress | null {
  const [, workspaceId, run, moults] = NAMED.exec(hash) ?? []
  if (!workspaceId || !run) return null
  return { workspaceId, run, ...(moults ? { moults: Math.min(12, Number(moults)) } : {}) }
}

function subscribe(listener: () => void): () => void {
  window.addEventListener('hashchange', listener)
  return () => window.removeEventListener('hashchange', listener)
}

/** Undefined on the server, which never sees it. */
export function useBenchAddress(): BenchAddress | null | undefined {
  const hash = useSyncExternalStore<string | undefined>(
    subscribe,
    () => window.location.hash,
    () => undefined,
  )
  return hash === undefined ? undefined : readBenchAddress(hash)
}
