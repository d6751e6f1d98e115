import { openLimits } from './limit'
import type { PlanRoom } from './room'
import { openCosts } from './slope'

export type SettleOptions = { wholeDays: number; mayGoOn: () => boolean }

/**
 * Whole starts and orders for the next days, those after them as they are: each is rounded to whichever side is
 * cheaper with all others as they stand, the soonest first, and then moved by one as long as that pays. O(slots of
 * those days × plays).
 */
export function settleWhole(room: PlanRoom, counts: readonly number[], options: SettleOptions) {
  const costOf = openCosts(room)
  const isPossible = openPossible(room)
  const soon = room.slots.flatMap(({ day, part }, slot) =>
    part === null && day < options.wholeDays ? [slot] : [],
  )
  let best = [...counts]
  let cost = Number.POSITIVE_INFINITY
  for (const slot of soon) {
    const [down, up] = [Math.floor(best[slot]!), Math.ceil(best[slot]!)]
    const sides = options.mayGoOn() ? [...new Set([down, up])] : [Math.round(best[slot]!)]
    const tried = sides
      .map((count) => best.with(slot, count))
      .filter((each, index) => index === 0 || isPossible(each))
      .map((each) => ({ each, cost: sides.length > 1 ? costOf(each) : 0 }))
    best = tried.reduce((a, b) => (b.cost < a.cost ? b : a)).each
  }
  cost = costOf(best)
  for (let round = 0; round < 2; round += 1) {
    const before = cost
    for (const slot of soon)
      for (const step of [1, -1]) {
        if (!options.mayGoOn()) break
        const moved = best.with(slot, best[slot]! + step)
        if (!isPossible(moved)) continue
        const next = costOf(moved)
        if (next >= cost) continue
        best = moved
        cost = next
      }
    if (cost === before) break
  }
  return { counts: best, cost }
}

/** Are counts within the limits, and no fewer than batches of different age ask for? */
function openPossible(room: PlanRoom): (counts: readonly number[]) => boolean {
  const keepIn = openLimits(room)
  return (counts) => {
    const fitted = [...counts]
    keepIn(fitted)
    return counts.every((count, slot) => Math.abs(count - fitted[slot]!) < 1e-6)
  }
}
