/** An animal of a box when it is settled: where the records have it, and the receipt it is on. */
export type BoxedAnimal = { id: string; label: string; whereabouts: string; receipt: string | null }

export type BoxEnd = 'home' | 'sold' | 'missing' | 'left_out'

export type Settled = {
  ends: { id: string; end: BoxEnd }[]
  /** who was scanned and should not be here, with what to do about it; labels as stored */
  puzzles: { label: string; why: string }[]
}

/**
 * What became of a box when what came home was scanned. Who is on a receipt is sold, who was scanned is home, who is
 * neither is missing and looked for; who died or escaped on the way has left the box already. A cup that is on a receipt
 * and stands here all the same is told: either the receipt is taken back or the buyer forgot it. O(n).
 */
export function settleBox(animals: readonly BoxedAnimal[], scanned: readonly string[]): Settled {
  const here = new Set(scanned)
  const known = new Set(animals.map(({ label }) => label))
  const ends = animals.map((animal) => ({ id: animal.id, end: endOf(animal, here) }))
  const puzzles = animals.flatMap(({ label, whereabouts, receipt }) => {
    if (!here.has(label) || whereabouts === 'single') return []
    if (whereabouts === 'sold')
      return [{ label, why: `It is on receipt ${receipt ?? '?'}: take that back, or give it to its buyer.` }]
    return [{ label, why: 'By the records it has died, escaped or was given away: take that back first.' }]
  })
  const strangers = scanned.filter((label) => !known.has(label))
  return {
    ends,
    puzzles: [...puzzles, ...strangers.map((label) => ({ label, why: 'It was not in this box.' }))],
  }
}

function endOf({ label, whereabouts }: BoxedAnimal, here: ReadonlySet<string>): BoxEnd {
  if (whereabouts === 'sold') return 'sold'
  if (whereabouts !== 'single') return 'left_out'
  return here.has(label) ? 'home' : 'missing'
}

/** So many of something: packed, on receipts, and counted at home; null while nobody has counted. */
export type BoxedItem = { description: string; packed: number; sold: number; home: number | null }

export type SettledItems = {
  /** what neither came home nor is on a receipt */
  missing: { description: string; count: number }[]
  /** what was sold and counted beyond what was packed */
  over: { description: string; count: number }[]
}

/** What became of the things in a box, by count. Who has not been counted is not judged. O(n). */
export function settleItems(items: readonly BoxedItem[]): SettledItems {
  const gaps = items.flatMap(({ description, packed, sold, home }) => {
    const count = home === null ? Math.min(0, packed - sold) : packed - sold - home
    return count === 0 ? [] : [{ description, count }]
  })
  return {
    missing: gaps.filter(({ count }) => count > 0),
    over: gaps
      .filter(({ count }) => count < 0)
      .map(({ description, count }) => ({ description, count: -count })),
  }
}
