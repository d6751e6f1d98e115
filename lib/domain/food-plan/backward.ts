import type { Flat, FlatScenario } from './flat'
import type { Track } from './track'

/** Fills `comes` and `there`; `stock` holds the cost of one more item, from the day's end back to its beginning. */
export function playBackward(flat: Flat, track: Track): void {
  const { lineCount, survival, waste } = flat
  const { stock, comes, there, cut, lacked } = track
  stock.fill(0)
  comes.fill(0)
  for (let day = flat.dayCount - 1; day >= 0; day -= 1) {
    const base = day * lineCount
    for (let line = 0; line < lineCount; line += 1) {
      const lives = survival[line]!
      if (cut[base + line] === 1) unkeep(flat, track, { day, line })
      else stock[line] = waste[line]! * (1 - lives) + lives * stock[line]!
    }
    unfeed(flat, track, day)
    for (let line = 0, cell = base; line < lineCount; line += 1, cell += 1) {
      const more = lacked[cell] === 1 ? -flat.starterCost[line]! : stock[line]!
      there[cell] = more
      stock[line] = more
      comes[cell]! += more
    }
  }
}

/** Where keeping time has cut what lasts, one more is worth something only if it came within that time. */
function unkeep(flat: Flat, { stock, comes }: Track, { day, line }: { day: number; line: number }): void {
  const waste = flat.waste[line]!
  const tomorrow = stock[line]!
  for (let back = Math.max(0, day + 2 - flat.keepDays[line]!); back <= day; back += 1)
    comes[back * flat.lineCount + line]! += tomorrow - waste
  stock[line] = waste
}

/** The steps of feeding, last first; `unfed` holds the cost of one more animal that is still hungry. */
function unfeed(flat: Flat, { stock, unfed, took }: Track, day: number): void {
  const { takeCount, takePlace, takeLine, takeItems, takeCost } = flat
  unfed.set(flat.shortage)
  for (let take = takeCount - 1, at = (day + 1) * takeCount - 1; take >= 0; take -= 1, at -= 1) {
    const line = takeLine[take]!
    const place = takePlace[take]!
    const items = takeItems[take]!
    const how = took[at]
    if (how === 0) unfed[place] = takeCost[take]! - items * stock[line]!
    // One more hungry animal costs what it costs further on; one more item spares a part of one.
    else if (how === 1) stock[line] = (takeCost[take]! - unfed[place]!) / items
  }
}

/** Adds to the slopes what one more culture or pack of each slot costs in the scenario just played back. */
export function addSlopes(
  { lineCount }: Flat,
  { comes, there }: Track,
  { scenario, slope, share }: { scenario: FlatScenario; slope: Float64Array; share: number },
): void {
  for (const {
    slots,
    parts,
    line,
    from,
    until,
    share: shares,
    each,
    startCell,
    starters,
  } of scenario.gifts) {
    let more = 0
    for (let day = from, cell = from * lineCount + line; day < until; day += 1, cell += lineCount)
      more += comes[cell]! * shares[day - from]!
    const worth = share * (each * more - (starters > 0 ? starters * there[startCell]! : 0))
    for (let place = 0; place < slots.length; place += 1) slope[slots[place]!]! += parts[place]! * worth
  }
}
