import { fitLimits } from './limit'
import type { PlanRoom } from './room'
import { openSlopes } from './slope'
import { usualCounts } from './usual-batch'

export type DescentOptions = {
  start?: readonly number[]
  steps: number
  /** Scenarios looked at in one step. */
  batch: number
  /** False as soon as the time is up. */
  mayGoOn?: () => boolean
}

const FIRST_STEP = 0.6
const LAST_STEP = 0.03
const SMALLEST_SCALE = 0.5
/** How much of the last slopes goes into the next step, and of their squares into its length. */
const MEMORY = 0.8
const SQUARE_MEMORY = 0.95
/** The end of the walk, over which its places are averaged. */
const AVERAGED_SHARE = 0.35

/**
 * Walks downhill on all slots at once: steps along remembered slopes, each slot's length by how steep it has been,
 * shorter and shorter, and back inside the limits after each. A step looks at a few scenarios, spread over all
 * branches, and the next step at others, so that many scenarios cost no more than few. The mean of the last places
 * is the answer; it may be of fractions. O(steps × batch × plays).
 */
export function descend(room: PlanRoom, options: DescentOptions): number[] {
  const { start, steps, mayGoOn = () => true } = options
  const slopesAt = openSlopes(room)
  const batches = spreadBatches(room, options.batch)
  const usual = usualCounts(room.foodCase, room.slots)
  const scale = room.slots.map(({ line }) => Math.max(SMALLEST_SCALE, usual[line]!))
  const counts = room.slots.map((slot, index) => start?.[index] ?? usual[slot.line]!)
  const mean = new Float64Array(counts.length)
  const square = new Float64Array(counts.length)
  const sums = new Float64Array(counts.length)
  let averaged = 0
  fitLimits(room, counts)
  for (let step = 0; step < steps && mayGoOn(); step += 1) {
    const { slope } = slopesAt(counts, batches[step % batches.length]!)
    const length = FIRST_STEP * (LAST_STEP / FIRST_STEP) ** (step / steps)
    for (let slot = 0; slot < counts.length; slot += 1) {
      const steepness = slope[slot]! * scale[slot]!
      mean[slot] = MEMORY * mean[slot]! + (1 - MEMORY) * steepness
      square[slot] = SQUARE_MEMORY * square[slot]! + (1 - SQUARE_MEMORY) * steepness ** 2
      const along = mean[slot]! / (1 - MEMORY ** (step + 1))
      const typical = Math.sqrt(square[slot]! / (1 - SQUARE_MEMORY ** (step + 1)))
      if (typical > 0) counts[slot]! -= (length * scale[slot]! * along) / typical
    }
    fitLimits(room, counts)
    if (step < steps * (1 - AVERAGED_SHARE)) continue
    averaged += 1
    for (let slot = 0; slot < counts.length; slot += 1) sums[slot]! += counts[slot]!
  }
  return averaged === 0 ? counts : Array.from(sums, (sum) => sum / averaged)
}

/** Scenarios dealt out so that each batch has its share of every branch. */
function spreadBatches(room: PlanRoom, size: number): number[][] {
  const path = (scenario: number) => room.members.map((row) => row[scenario]).join('')
  const sorted = room.scenarios
    .map((_, scenario) => ({ scenario, path: path(scenario) }))
    .sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : a.scenario - b.scenario))
  const count = Math.max(1, Math.round(sorted.length / size))
  return Array.from({ length: count }, (_, batch) =>
    sorted.flatMap(({ scenario }, place) => (place % count === batch ? [scenario] : [])),
  )
}
