/**
 * The head count of a clutch: from hatching on every animal is somewhere.
 * Moves between places are entries that are never edited, only reversed.
 *
 * Invariant: hatched = together + single + sold + givenAway + dead + escaped + unaccounted.
 * `uncounted` is the world outside the count: an entry from it raises `hatched` (the hatch itself, or a
 * correction of an "about" upwards), an entry to it lowers `hatched` (a correction downwards, not a loss).
 * `unaccounted` may be negative: a recount can find more than the entries explain. Nothing else may.
 */
export const HEAD_COUNT_STATES = [
  'together',
  'single',
  'sold',
  'given_away',
  'dead',
  'escaped',
  'unaccounted',
] as const

export type HeadCountState = (typeof HEAD_COUNT_STATES)[number]
export type EntryState = 'uncounted' | HeadCountState

/** Whole animals per place. */
export type HeadCount = {
  hatched: number
  together: number
  single: number
  sold: number
  givenAway: number
  dead: number
  escaped: number
  unaccounted: number
}

export type HeadCountField = Exclude<keyof HeadCount, 'hatched'>

/** The name of each place in records, and in a head count. */
export const HEAD_COUNT_FIELDS: Readonly<Record<HeadCountState, HeadCountField>> = {
  together: 'together',
  single: 'single',
  sold: 'sold',
  given_away: 'givenAway',
  dead: 'dead',
  escaped: 'escaped',
  unaccounted: 'unaccounted',
}

/**
 * Which moves mean something. Sold and given away come back as returns; an escaped animal comes back by
 * itself or is found dead; the dead stay dead (a mistaken entry is reversed, see `isReversal`).
 */
export const ALLOWED_MOVES: Readonly<Record<EntryState, readonly EntryState[]>> = {
  uncounted: ['together', 'single', 'dead', 'escaped'],
  together: ['single', 'sold', 'given_away', 'dead', 'escaped', 'unaccounted', 'uncounted'],
  single: ['together', 'sold', 'given_away', 'dead', 'escaped', 'unaccounted'],
  sold: ['single', 'together'],
  given_away: ['single', 'together'],
  dead: [],
  escaped: ['single', 'together', 'dead'],
  unaccounted: ['together', 'single', 'dead', 'escaped'],
}

export type HeadCountEntry = {
  from: EntryState
  to: EntryState
  /** Whole animals, at least one. */
  count: number
  /** True when the entry takes back an earlier one (whose move was to → from). */
  isReversal?: boolean
}

export type RefusalCode = 'not-a-whole-number' | 'same-place' | 'no-such-move' | 'more-than-left'

export type EntryOutcome =
  | { status: 'ok'; count: HeadCount }
  | {
      status: 'refused'
      code: RefusalCode /** Animals at `from`, null for the uncounted. */
      left: number | null
    }

export function emptyHeadCount(): HeadCount {
  return { hatched: 0, together: 0, single: 0, sold: 0, givenAway: 0, dead: 0, escaped: 0, unaccounted: 0 }
}

/** Animals in one place; null for `uncounted`, which has no number. */
export function countOf(count: HeadCount, state: EntryState): number | null {
  return state === 'uncounted' ? null : count[HEAD_COUNT_FIELDS[state]]
}

/** Does the move mean something, in itself or as the reversal of one that does? */
export function isMoveAllowed(entry: Pick<HeadCountEntry, 'from' | 'to' | 'isReversal'>): boolean {
  if (entry.isReversal) return ALLOWED_MOVES[entry.to].includes(entry.from)
  return ALLOWED_MOVES[entry.from].includes(entry.to)
}

/** The head count after one entry, or why it cannot be. The given count is left as it is. */
export function applyEntry(count: HeadCount, entry: HeadCountEntry): EntryOutcome {
  const left = countOf(count, entry.from)
  if (!Number.isInteger(entry.count) || entry.count < 1)
    return { status: 'refused', code: 'not-a-whole-number', left }
  if (entry.from === entry.to) return { status: 'refused', code: 'same-place', left }
  if (!isMoveAllowed(entry)) return { status: 'refused', code: 'no-such-move', left }
  if (left !== null && entry.from !== 'unaccounted' && entry.count > left) {
    return { status: 'refused', code: 'more-than-left', left }
  }
  // Animals found again may outnumber the hatch; then there is no hatch left to correct down.
  if (entry.to === 'uncounted' && entry.count > count.hatched)
    return { status: 'refused', code: 'more-than-left', left: count.hatched }
  const next = { ...count }
  if (entry.from === 'uncounted') next.hatched += entry.count
  else next[HEAD_COUNT_FIELDS[entry.from]] -= entry.count
  if (entry.to === 'uncounted') next.hatched -= entry.count
  else next[HEAD_COUNT_FIELDS[entry.to]] += entry.count
  return { status: 'ok', count: next }
}

/** hatched equals the sum of all places, and no place but `unaccounted` is below zero. */
export function isSumRight(count: HeadCount): boolean {
  const places = HEAD_COUNT_STATES.map((state) => count[HEAD_COUNT_FIELDS[state]])
  const sum = places.reduce((total, animals) => total + animals, 0)
  const isNoneNegative = HEAD_COUNT_STATES.every(
    (state) => state === 'unaccounted' || count[HEAD_COUNT_FIELDS[state]] >= 0,
  )
  return sum === count.hatched && count.hatched >= 0 && isNoneNegative
}

/** Animals that are still here. */
export function livingHere(count: HeadCount): number {
  return count.together + count.single
}

export type HeadCountShare = {
  state: HeadCountState
  count: number /** 0–1 of the bar's length. */
  share: number
}

/** Segments of the head-count bar, in fixed order; a negative `unaccounted` is shown as a number only. */
export function headCountShares(count: HeadCount): HeadCountShare[] {
  const segments = HEAD_COUNT_STATES.map((state) => ({ state, count: count[HEAD_COUNT_FIELDS[state]] }))
  const length = segments.reduce((total, segment) => total + Math.max(0, segment.count), 0)
  return segments.map((segment) => ({
    ...segment,
    share: length === 0 ? 0 : Math.max(0, segment.count) / length,
  }))
}

/**
 * The entry a recount asks for: animals `together` were counted by hand. Fewer than recorded become
 * unaccounted, more come out of it; null when the records were right. While the clutch is still "about"
 * (`isSettled` false) the difference is a correction of the count itself.
 */
export function recountEntry(
  count: HeadCount,
  counted: { together: number; isSettled: boolean },
): HeadCountEntry | null {
  const difference = counted.together - count.together
  if (difference === 0) return null
  const other: EntryState = counted.isSettled ? 'unaccounted' : 'uncounted'
  return difference > 0
    ? { from: other, to: 'together', count: difference }
    : { from: 'together', to: other, count: -difference }
}
