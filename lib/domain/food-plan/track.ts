import type { Flat, FlatScenario } from './flat'

/** What happened on the way forward through a scenario, and on the way back the worth of one more. */
export type Track = {
  supply: Float64Array
  starters: Float64Array
  stock: Float64Array
  /** Of what has come, by line, that keeps its time. */
  fresh: Float64Array
  unfed: Float64Array
  /** By day and take: 0 where there was enough, 1 where all was eaten, 2 where nobody hungry came to it. */
  took: Uint8Array
  /** By cell: starters were missing; what lasts was cut by its keeping time. */
  lacked: Uint8Array
  cut: Uint8Array
  /** By cell: cost of one more item coming on that day, and of one more that is there on its morning. */
  comes: Float64Array
  there: Float64Array
}

export function newTrack({ dayCount, lineCount, classCount, takeCount }: Flat): Track {
  const cells = dayCount * lineCount
  return {
    supply: new Float64Array(cells),
    starters: new Float64Array(cells),
    stock: new Float64Array(lineCount),
    fresh: new Float64Array(lineCount),
    unfed: new Float64Array(classCount),
    took: new Uint8Array(dayCount * takeCount),
    lacked: new Uint8Array(cells),
    cut: new Uint8Array(cells),
    comes: new Float64Array(cells),
    there: new Float64Array(cells),
  }
}

/** Supply and starters that counts add up to in a scenario. */
export function setCounts(
  { lineCount }: Flat,
  { supply, starters }: Track,
  { scenario, counts }: { scenario: FlatScenario; counts: ArrayLike<number> },
): void {
  supply.set(scenario.supply)
  starters.fill(0)
  for (const gift of scenario.gifts) {
    let count = 0
    for (let place = 0; place < gift.slots.length; place += 1)
      count += gift.parts[place]! * counts[gift.slots[place]!]!
    if (!(count > 0)) continue
    const { share, from, until } = gift
    const each = count * gift.each
    for (let day = from, cell = from * lineCount + gift.line; day < until; day += 1, cell += lineCount)
      supply[cell]! += each * share[day - from]!
    starters[gift.startCell]! += count * gift.starters
  }
}
