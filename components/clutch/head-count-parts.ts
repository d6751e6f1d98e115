import type { HeadCount, HeadCountField } from '@/lib/domain/head-count/head-count'

export type Part = { field: HeadCountField; word: string; count: number }

/** The order is the way an animal goes: from its siblings into a cup, out of the house, or lost. */
const WORDS: readonly [HeadCountField, string][] = [
  ['together', 'together'],
  ['single', 'single'],
  ['sold', 'sold'],
  ['givenAway', 'given away'],
  ['dead', 'dead'],
  ['escaped', 'escaped'],
  ['unaccounted', 'unaccounted'],
]

export function listParts(count: HeadCount): Part[] {
  return WORDS.map(([field, word]) => ({ field, word, count: count[field] }))
}

export type Segment = Part & { left: number; width: number }

/** The narrowest piece that is still seen. */
const LEAST_PX = 4
const GAP_PX = 2

/**
 * Pieces of one bar, in proportion. A single lost animal among 140 keeps a piece of its own, which the large
 * pieces pay for. A negative `unaccounted` (a recount found more than the entries explain) has no piece.
 */
export function cutBar(parts: readonly Part[], widthPx: number): Segment[] {
  const shown = parts.filter((part) => part.count > 0)
  const room = widthPx - GAP_PX * Math.max(0, shown.length - 1)
  const total = shown.reduce((sum, part) => sum + part.count, 0)
  const raw = shown.map((part) => Math.max(LEAST_PX, (part.count / total) * room))
  const excess = raw.reduce((sum, width) => sum + width, 0) - room
  const large = raw.reduce((sum, width) => sum + Math.max(0, width - LEAST_PX), 0)
  let left = 0
  return shown.map((part, position) => {
    const own = raw[position] ?? 0
    const width = own - (large === 0 ? 0 : (excess * Math.max(0, own - LEAST_PX)) / large)
    const segment = { ...part, left, width }
    left += width + GAP_PX
    return segment
  })
}
