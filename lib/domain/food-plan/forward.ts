import type { Flat, FlatScenario } from './flat'
import { setCounts, type Track } from './track'

/** Cost of one scenario without the prices of its slots, as `playScenario` has it. O(days × (lines + takes)). */
export function playForward(
  flat: Flat,
  track: Track,
  play: { scenario: FlatScenario; counts: ArrayLike<number> },
): number {
  setCounts(flat, track, play)
  track.stock.set(flat.stock)
  track.fresh.fill(0)
  let cost = 0
  for (let day = 0; day < flat.dayCount; day += 1) {
    cost += takeStarters(flat, track, day)
    cost += feed(flat, track, { day, need: play.scenario.need })
    cost += keep(flat, track, day)
  }
  return cost
}

function takeStarters({ lineCount, starterCost }: Flat, track: Track, day: number): number {
  const { stock, supply, starters, lacked } = track
  let cost = 0
  for (let line = 0, cell = day * lineCount; line < lineCount; line += 1, cell += 1) {
    const left = stock[line]! + supply[cell]! - starters[cell]!
    lacked[cell] = left < 0 ? 1 : 0
    stock[line] = Math.max(0, left)
    if (left < 0) cost -= left * starterCost[line]!
  }
  return cost
}

function feed(flat: Flat, track: Track, { day, need }: { day: number; need: Float64Array }): number {
  const { classCount, takeCount, takePlace, takeLine, takeItems, takeCost, shortage } = flat
  const { stock, unfed, took } = track
  const base = day * classCount
  let cost = 0
  for (let place = 0; place < classCount; place += 1) unfed[place] = need[base + place]!
  for (let take = 0, at = day * takeCount; take < takeCount; take += 1, at += 1) {
    const place = takePlace[take]!
    const animals = unfed[place]!
    if (!(animals > 1e-9)) {
      took[at] = 2
      continue
    }
    const line = takeLine[take]!
    const items = takeItems[take]!
    const left = stock[line]! - animals * items
    took[at] = left < 0 ? 1 : 0
    unfed[place] = left < 0 ? -left / items : 0
    cost += (animals - unfed[place]!) * takeCost[take]!
    stock[line] = Math.max(0, left)
  }
  for (let place = 0; place < classCount; place += 1)
    if (unfed[place]! > 1e-9) cost += unfed[place]! * shortage[place]!
  return cost
}

function keep(flat: Flat, { stock, supply, fresh, cut }: Track, day: number): number {
  const { lineCount, survival, waste, keepDays } = flat
  let cost = 0
  for (let line = 0, cell = day * lineCount; line < lineCount; line += 1, cell += 1) {
    const present = stock[line]!
    let lasting = present * survival[line]!
    const days = keepDays[line]!
    if (days > 0) {
      fresh[line]! += supply[cell]!
      if (day + 1 >= days) fresh[line]! -= supply[cell - (days - 1) * lineCount]!
      const good = Math.max(0, fresh[line]!) + (flat.stockGood[line]![day + 1] ?? 0)
      cut[cell] = good < lasting ? 1 : 0
      if (good < lasting) lasting = good
    }
    cost += (present - lasting) * waste[line]!
    stock[line] = lasting
  }
  return cost
}
