import { fitLimits } from './limit'
import type { PlanRoom } from './room'
import { openSlopes } from './slope'
import { usualCounts } from './usual-batch'

/** Counts that may be fractions, and their mean cost over the scenarios. */
export type Descended = { counts: number[]; cost: number; effort: number }

export type DescentOptions = {
  start?: readonly number[]
  steps: number
  /** False as soon as the time is up. */
  mayGoOn?: () => boolean
}

const FIRST_STEP = 0.6
const LAST_STEP = 0.03
const SMALLEST_SCALE = 0.5
/** How much of the last slopes goes into the next step, and of their squares into its length. */
const MEMORY = 0.8
const SQUARE_MEMORY = 0.95

/**
 * Walks downhill on all slots at once: steps along remembered slopes, each slot's length by how steep it has been,
 * shorter and shorter, and back inside the limits after each. The best counts met are the answer. O(steps × plays).
 */
export function descend(room: PlanRoom, { start, steps, mayGoOn = () => true }: DescentOptions): Descended {
  const slopesAt = openSlopes(room)
  const usual = usualCounts(room.foodCase, room.slots)
  const scale = room.slots.map(({ line }) => Math.max(SMALLEST_SCALE, usual[line]!))
  const counts = room.slots.map((slot, index) => start?.[index] ?? usual[slot.line]!)
  const mean = new Float64Array(counts.length)
  const square = new Float64Array(counts.length)
  let best: Descended = { counts: [], cost: Number.POSITIVE_INFINITY, effort: 0 }
  let effort = 0
  for (let step = 0; step <= steps; step += 1) {
    fitLimits(room, counts)
    const { cost, slope, effort: spent } = slopesAt(counts)
    effort += spent
    if (cost < best.cost) best = { counts: [...counts], cost, effort }
    if (!mayGoOn()) break
    const length = FIRST_STEP * (LAST_STEP / FIRST_STEP) ** (step / steps)
    for (let slot = 0; slot < counts.length; slot += 1) {
      const steepness = slope[slot]! * scale[slot]!
      mean[slot] = MEMORY * mean[slot]! + (1 - MEMORY) * steepness
      square[slot] = SQUARE_MEMORY * square[slot]! + (1 - SQUARE_MEMORY) * steepness ** 2
      const along = mean[slot]! / (1 - MEMORY ** (step + 1))
      const typical = Math.sqrt(square[slot]! / (1 - SQUARE_MEMORY ** (step + 1)))
      if (typical > 0) counts[slot]! -= (length * scale[slot]! * along) / typical
    }
  }
  return { ...best, effort }
}
