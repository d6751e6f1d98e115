import type { EntryState } from './head-count'

/** An entry as the ledger keeps it: what replaying needs of it. */
export type ReplayEntry = {
  id: string
  clutchId: string | null
  individualId: string | null
  from: EntryState
  to: EntryState
  count: number
  reverses: string | null
}

type Standing = { counts: Map<string, number>; places: Map<string, EntryState>; done: Set<string> }

/**
 * Puts entries into an order in which the ledger takes every one of them again: no count below zero, each animal where
 * the entry says, a reversal after what it reverses. They were made in about the order of their ids; two that were made
 * in the same moment may have to change places.
 * @param clutchOf the clutch of every animal, null for one that came from elsewhere
 * @returns undefined when there is no such order: then this is not what a ledger wrote. O(n), with one more pass for
 *   each entry that has to wait for a later one
 */
export function orderEntries<T extends ReplayEntry>(
  entries: readonly T[],
  clutchOf: ReadonlyMap<string, string | null>,
): T[] | undefined {
  const standing: Standing = { counts: new Map(), places: new Map(), done: new Set() }
  for (const [id, clutch] of clutchOf) standing.places.set(id, clutch === null ? 'uncounted' : 'together')
  const ordered: T[] = []
  let waiting = entries.toSorted((a, b) => (a.id < b.id ? -1 : 1))
  while (waiting.length > 0) {
    const left = waiting.filter((entry) => !take(standing, entry, clutchOf))
    if (left.length === waiting.length) return undefined
    const stay = new Set(left)
    ordered.push(...waiting.filter((entry) => !stay.has(entry)))
    waiting = left
  }
  return ordered
}

function take(standing: Standing, entry: ReplayEntry, clutchOf: ReadonlyMap<string, string | null>): boolean {
  const { counts, places, done } = standing
  const { id, clutchId, individualId, from, to, count, reverses } = entry
  if (count <= 0 || from === to || (reverses !== null && !done.has(reverses))) return false
  if (individualId !== null) {
    if (count !== 1 || places.get(individualId) !== from || clutchOf.get(individualId) !== clutchId)
      return false
  } else if (clutchId === null) return false
  const key = (state: EntryState) => `${clutchId} ${state}`
  const left = (counts.get(key(from)) ?? 0) - count
  // Outside the count there are always enough, and what a recount did not find may be less than nothing.
  const isBound = clutchId !== null && from !== 'uncounted' && from !== 'unaccounted'
  if (isBound && left < 0) return false
  if (clutchId !== null) {
    counts.set(key(from), left)
    counts.set(key(to), (counts.get(key(to)) ?? 0) + count)
  }
  if (individualId !== null) places.set(individualId, to)
  done.add(id)
  return true
}
