import type { BenchTap } from '@/lib/domain/separation/bench-run'
import type { BenchRun } from '@/lib/features/bench/schema'

/** What is sent for a tap, exactly as the service reads it. It does not change once it has been tapped. */
export type Operation = {
  id: string
  workspaceId: string
  personId: string
  run: string
  kind: BenchTap['kind']
  payload: Record<string, unknown>
  on: string
  tappedAt: string
  undoes?: string
  v: 1
}

export type Refusal = { code: string; message: string; present?: unknown }

/**
 * A tap as the device keeps it. `order` says when it is sent; a correction that has to come before a refused tap
 * takes a place between two others.
 */
export type Entry = {
  order: number
  run: string
  tap: BenchTap
  operation: Operation
  state: 'waiting' | 'sent' | 'refused'
  refusal?: Refusal
  /** The label that the service gave, where the tap had none. */
  label?: string
}

/**
 * A run as this device has it for one person: the stage that the cups begin in, and what stands on the counter of those
 * that hang until it has been said.
 */
export type KeptRun = BenchRun & { moults: number; unsaidHanging?: number }

export function inOrder(entries: readonly Entry[]): Entry[] {
  return entries.toSorted((a, b) => a.order - b.order || a.operation.id.localeCompare(b.operation.id))
}

/** What stands on this device alone. */
export function isUnsent({ state, tap }: Entry): boolean {
  return state !== 'sent' && !tap.isDropped
}

/** An id of 128 random bits; `randomUUID` is missing where the page came over plain http. */
export function createOperationId(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID()
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('')
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`
}
