/**
 * The walk along the shelves: zone after zone in walking order, kinds of containers apart, cups in the order in which
 * they were put up. A long shelf is walked in parts, so that an evening can be broken off without losing what was seen.
 */
export type WalkedCup = { id: string; zoneId: string | null; kindName: string; containerId: string }
export type WalkedGroup = { id: string; zoneId: string | null }

export type Shelf<C extends WalkedCup, G extends WalkedGroup> = {
  /** Stable as long as the same cups stand there: what was tapped is kept under it. */
  key: string
  zoneId: string | null
  kindName: string | null
  /** "13–24 of 40" where a shelf is walked in parts. */
  part: { from: number; until: number; of: number } | null
  groups: G[]
  cups: C[]
}

export const CUPS_PER_PART = 40

export function arrangeShelves<C extends WalkedCup, G extends WalkedGroup>(
  room: { cups: readonly C[]; groups: readonly G[] },
  zoneIds: readonly string[],
  perPart = CUPS_PER_PART,
): Shelf<C, G>[] {
  const known = new Set(zoneIds)
  const zones: (string | null)[] = [...zoneIds, null]
  return zones.flatMap((zoneId) => {
    const isHere = (standing: { zoneId: string | null }) =>
      zoneId === null ? standing.zoneId === null || !known.has(standing.zoneId) : standing.zoneId === zoneId
    const groups = room.groups.filter(isHere)
    const together: Shelf<C, G>[] =
      groups.length > 0
        ? [{ key: `${zoneId}|together`, zoneId, kindName: null, part: null, groups, cups: [] }]
        : []
    return [...together, ...listCupShelves<C, G>(room.cups.filter(isHere), zoneId, perPart)]
  })
}

function listCupShelves<C extends WalkedCup, G extends WalkedGroup>(
  cups: readonly C[],
  zoneId: string | null,
  perPart: number,
): Shelf<C, G>[] {
  const kinds = [...new Set(cups.map(({ kindName }) => kindName))].sort()
  return kinds.flatMap((kindName) => {
    const row = cups
      .filter((cup) => cup.kindName === kindName)
      .sort((a, b) => (a.containerId < b.containerId ? -1 : a.containerId > b.containerId ? 1 : 0))
    // Parts of nearly the same length: nobody wants a last one of two cups.
    const parts = Math.ceil(row.length / perPart)
    return Array.from({ length: parts }, (_, index): Shelf<C, G> => {
      const [from, until] = [index, index + 1].map((edge) => Math.round((edge * row.length) / parts))
      const part = parts > 1 ? { from: (from ?? 0) + 1, until: until ?? 0, of: row.length } : null
      const key = `${zoneId}|${kindName}|${index}`
      return { key, zoneId, kindName, part, groups: [], cups: row.slice(from, until) }
    })
  })
}
