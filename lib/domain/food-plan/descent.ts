import { openLimits } from './limit'
import type { PlanRoom } from './room'
import { openSlopes, type Sloped } from './slope'
import { usualCounts } from './usual-batch'

export type DescentOptions = {
  start?: readonly number[]
  /** Plays of all scenarios there and back. */
  steps: number
  /** Sets that the scenarios are dealt into: each step of the walk plays one of them. One unless said. */
  sets?: number
  /** False as soon as the time is up. */
  mayGoOn?: () => boolean
}

/**
 * Goes downhill on all slots at once: first in strides, whose length follows from whether a slot's slope keeps its
 * sign, since hunger is a hundred times steeper than waste; then at a walk along remembered slopes, each slot's length
 * by how steep it has been, shorter and shorter, back inside the limits after each step. A walk that plays a part of
 * the scenarios at a time goes the same way for less, and clings to none of them. The cheapest of the places strided
 * over and of the mean of the walk's last ones is the answer; it may be of fractions. O(steps × plays).
 */
export function descend(
  room: PlanRoom,
  { start, steps, sets = 1, mayGoOn = () => true }: DescentOptions,
): number[] {
  const usual = usualCounts(room.foodCase, room.slots)
  const everyone = room.scenarios.map((_, scenario) => scenario)
  const dealt = Array.from({ length: Math.min(sets, everyone.length) }, (_, set) =>
    everyone.filter((scenario) => scenario % sets === set),
  )
  const slopesAt = openSlopes(room)
  const keepIn = openLimits(room)
  const counts = Float64Array.from(room.slots, ({ line }, slot) => start?.[slot] ?? usual[line]!)
  keepIn(counts)
  const partsEach = room.slots.length / new Set(room.slots.map(({ line, day }) => `${line}/${day}`)).size
  const hill: Hill = {
    counts,
    scale: Float64Array.from(room.slots, ({ line }) => Math.max(SMALLEST_SCALE, usual[line]! / partsEach)),
    keepIn,
    slopesHere: () => slopesAt(counts, everyone),
    slopesOfSet: (step) => slopesAt(counts, dealt[step % dealt.length]!),
    best: { cost: Number.POSITIVE_INFINITY, counts: counts.slice() },
    mayGoOn,
  }
  const strides = Math.round(STRIDE_SHARE * steps)
  stride(hill, strides)
  counts.set(hill.best.counts)
  walk(hill, steps - strides)
  return Array.from(hill.best.counts)
}

const SMALLEST_SCALE = 0.5
const STRIDE_SHARE = 0.1

type Hill = {
  counts: Float64Array
  /** By slot: what a step of length 1 is. */
  scale: Float64Array
  keepIn: (counts: Float64Array) => void
  slopesHere: () => Sloped
  /** Of one set of the scenarios, another one each step. */
  slopesOfSet: (step: number) => Sloped
  best: { cost: number; counts: Float64Array }
  mayGoOn: () => boolean
}

function look({ slopesHere, best, counts }: Hill): Float64Array {
  const { cost, slope } = slopesHere()
  if (cost < best.cost) {
    best.cost = cost
    best.counts.set(counts)
  }
  return slope
}

const FIRST_STRIDE = 0.5
const LONGEST_STRIDE = 2
const LONGER = 1.3
const SHORTER = 0.5

function stride(hill: Hill, steps: number): void {
  const { counts, scale, keepIn } = hill
  const lengths = scale.map((each) => FIRST_STRIDE * each)
  let before = new Float64Array(counts.length)
  for (let step = 0; step < steps && hill.mayGoOn(); step += 1) {
    const slope = look(hill)
    for (let slot = 0; slot < counts.length; slot += 1) {
      const turned = slope[slot]! * before[slot]!
      if (turned > 0) lengths[slot] = Math.min(LONGEST_STRIDE * scale[slot]!, lengths[slot]! * LONGER)
      if (turned < 0) lengths[slot]! *= SHORTER
      counts[slot]! -= Math.sign(slope[slot]!) * lengths[slot]!
    }
    before = slope as Float64Array<ArrayBuffer>
    keepIn(counts)
  }
}

const FIRST_STEP = 0.6
const LAST_STEP = 0.03
/** How much of the last slopes goes into the next step, and of their squares into its length. */
const MEMORY = 0.8
const SQUARE_MEMORY = 0.9
/** The end of the walk, over which its places are averaged. */
const AVERAGED_SHARE = 0.35

function walk(hill: Hill, steps: number): void {
  const { counts, scale, keepIn } = hill
  const mean = new Float64Array(counts.length)
  const square = new Float64Array(counts.length)
  const sums = new Float64Array(counts.length)
  let averaged = 0
  for (let step = 0; step < steps && hill.mayGoOn(); step += 1) {
    const { slope } = hill.slopesOfSet(step)
    const length = FIRST_STEP * (LAST_STEP / FIRST_STEP) ** (step / steps)
    for (let slot = 0; slot < counts.length; slot += 1) {
      const steepness = slope[slot]! * scale[slot]!
      mean[slot] = MEMORY * mean[slot]! + (1 - MEMORY) * steepness
      square[slot] = SQUARE_MEMORY * square[slot]! + (1 - SQUARE_MEMORY) * steepness ** 2
      const along = mean[slot]! / (1 - MEMORY ** (step + 1))
      const typical = Math.sqrt(square[slot]! / (1 - SQUARE_MEMORY ** (step + 1)))
      if (typical > 0) counts[slot]! -= (length * scale[slot]! * along) / typical
    }
    keepIn(counts)
    if (step < steps * (1 - AVERAGED_SHARE)) continue
    averaged += 1
    for (let slot = 0; slot < counts.length; slot += 1) sums[slot]! += counts[slot]!
  }
  if (averaged === 0) return
  for (let slot = 0; slot < counts.length; slot += 1) counts[slot] = sums[slot]! / averaged
  look(hill)
}
