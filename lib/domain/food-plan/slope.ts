import { addSlopes, playBackward } from './backward'
import { flatten } from './flat'
import { playForward } from './forward'
import type { PlanRoom } from './room'
import { newTrack } from './track'

/** Mean cost of counts over some scenarios, and by how much it changes with one more in each slot. */
export type Sloped = { cost: number; slope: Float64Array }

/**
 * Plays every scenario forward as `playScenario` does and then backward: what one more item in stock would have
 * saved, day by day, and so what one more culture or pack would have. Counts may be fractions. Each step of a day
 * takes the lesser of what is there and what is wanted, so the way back is exact wherever the two differ.
 * O(scenarios × (days × (lines + accepted lines) + slots × days a culture gives)).
 */
export function openSlopes(
  room: PlanRoom,
): (counts: ArrayLike<number>, scenarios: readonly number[]) => Sloped {
  const flat = flatten(room)
  const track = newTrack(flat)
  return (counts, scenarios) => {
    const share = 1 / scenarios.length
    const slope = Float64Array.from(flat.prices)
    let cost = priceOf(flat.prices, counts)
    for (const index of scenarios) {
      const scenario = flat.scenarios[index]!
      cost += share * playForward(flat, track, { scenario, counts })
      playBackward(flat, track)
      addSlopes(flat, track, { scenario, slope, share })
    }
    return { cost, slope }
  }
}

/** The mean cost alone, for a third of the work. */
export function openCosts(room: PlanRoom): (counts: ArrayLike<number>) => number {
  const flat = flatten(room)
  const track = newTrack(flat)
  return (counts) => {
    let cost = priceOf(flat.prices, counts)
    for (const scenario of flat.scenarios)
      cost += playForward(flat, track, { scenario, counts }) / flat.scenarios.length
    return cost
  }
}

function priceOf(prices: Float64Array, counts: ArrayLike<number>): number {
  let sum = 0
  for (let slot = 0; slot < prices.length; slot += 1) sum += prices[slot]! * counts[slot]!
  return sum
}
