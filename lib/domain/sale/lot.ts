/** So many of each, as the trade writes a lot: males.females.unsexed. */
export type LotSexes = { males: number; females: number; unsexed: number }

/** "1.2.3": one male, two females, three unsexed. */
export function writeLot({ males, females, unsexed }: LotSexes): string {
  return `${males}.${females}.${unsexed}`
}

export function countLot({ males, females, unsexed }: LotSexes): number {
  return males + females + unsexed
}

/** Reads "1.2.3", or "1.2" with nobody unsexed; null for anything else. */
export function readLot(text: string): LotSexes | null {
  const found = /^\s*(\d{1,4})\.(\d{1,4})(?:\.(\d{1,4}))?\s*$/.exec(text)
  if (!found) return null
  const [males = 0, females = 0, unsexed = 0] = found.slice(1).map((part) => Number(part ?? 0))
  return { males, females, unsexed }
}
