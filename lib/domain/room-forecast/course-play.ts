import { type Lognormal, lognormalBelow } from '../probability/lognormal'

/**
 * One course of instars played forward on a grid of effective days, one step each. Animals of all ages go
 * through together, so the work does not grow with their number: every instar is one convolution of all who
 * enter it with its length, O(steps × spread of the length). State `step` is that half a step later.
 */
export type PlayedCourse = { stages: readonly StageLength[]; steps: number }

/**
 * How long a stage lasts: P(length ≤ x) at whole and at half steps. Before `first` nobody leaves, after the
 * end of the tables nobody is left. `hazard` is the share that dies per effective day.
 */
export type StageLength = {
  atWhole: (step: number) => number
  atHalf: (step: number) => number
  first: number
  last: number
  hazard: number
}

/** Living animals by stage and step. */
export type Occupancy = Float64Array[]

/** And those who leave the last stage at each step: a course of nymphs ends with the final moult. */
export type Played = { occupancy: Occupancy; leaving: Float64Array }

/** So many stand in a stage for `spent` whole effective days. */
export type Beginning = { stage: number; spent: number; count: number }

const TAIL_SD = 4

export function stageLength(length: Lognormal, hazard: number): StageLength {
  const first = Math.max(0, Math.floor(Math.exp(length.logMean - TAIL_SD * length.logSd)) - 1)
  const last = Math.ceil(Math.exp(length.logMean + TAIL_SD * length.logSd)) + 1
  const table = (offset: number) => {
    const cells = Float64Array.from({ length: last - first + 1 }, (_, index) =>
      lognormalBelow(length, first + index + offset),
    )
    return (step: number) => (step < first ? 0 : step > last ? 1 : cells[step - first]!)
  }
  return { atWhole: table(0), atHalf: table(0.5), first, last, hazard }
}

/** Animals that stand in a stage already, and what becomes of them. Survival counts from now. */
export function playBeginnings(course: PlayedCourse, beginnings: readonly Beginning[]): Played {
  const { stages, steps } = course
  const { occupancy, entering } = emptyFlow(course)
  for (const { stage, spent, count } of beginnings) {
    const { atWhole, atHalf, hazard, last } = stages[stage]!
    const still = 1 - atWhole(spent)
    let passed = 0
    for (let step = 0; step < steps; step += 1) {
      // Whoever is beyond the longest length leaves at once.
      const isBeyond = still < 1e-9 || spent + step > last
      const left = isBeyond ? 1 : Math.max(passed, (atHalf(spent + step) - (1 - still)) / still)
      const living = count * Math.exp(-hazard * (step + 0.5))
      entering[stage + 1]![step]! += (left - passed) * living
      occupancy[stage]![step]! += (1 - left) * living
      passed = left
      if (passed >= 1) break
    }
  }
  passOn(course, { occupancy, entering })
  return { occupancy, leaving: entering[stages.length]! }
}

/** Animals that enter the first stage at given steps. */
export function playEntering(course: PlayedCourse, arriving: Float64Array): Played {
  const { occupancy, entering } = emptyFlow(course)
  entering[0]!.set(arriving.subarray(0, course.steps))
  passOn(course, { occupancy, entering })
  return { occupancy, leaving: entering[course.stages.length]! }
}

type Flow = { occupancy: Occupancy; entering: Float64Array[] }

function emptyFlow({ stages, steps }: PlayedCourse): Flow {
  const zeros = (count: number) => Array.from({ length: count }, () => new Float64Array(steps))
  return { occupancy: zeros(stages.length), entering: zeros(stages.length + 1) }
}

/**
 * Where one animal stands that hatched `ages` steps ago: its chances by stage and time spent there. Nobody
 * dies on the way, as the animals asked about are those alive now.
 */
export function standingAfter(stages: readonly StageLength[], ages: number): Beginning[] {
  const standing: Beginning[] = []
  let arriving = new Float64Array(ages + 1)
  arriving[0] = 1
  stages.forEach((length, stage) => {
    const next = new Float64Array(ages + 1)
    for (let at = 0; at <= ages; at += 1) {
      const count = arriving[at]!
      if (count < 1e-9) continue
      const spent = ages - at
      const still = count * (1 - length.atWhole(spent))
      if (still > 1e-6) standing.push({ stage, spent, count: still })
      if (stage === stages.length - 1) continue
      for (let step = length.first; step <= length.last && at + step <= ages; step += 1)
        next[at + step]! += count * leavingShare(length, step)
    }
    arriving = next
  })
  // On whole steps a little is counted twice or missed at the last one.
  const total = standing.reduce((sum, { count }) => sum + count, 0)
  return standing.map((one) => ({ ...one, count: one.count / total }))
}

function leavingShare({ atHalf }: StageLength, step: number): number {
  return atHalf(step) - (step > 0 ? atHalf(step - 1) : 0)
}

function passOn({ stages, steps }: PlayedCourse, flow: Flow): void {
  stages.forEach((length, stage) => {
    const arriving = flow.entering[stage]!
    const begun = arriving.findIndex((count) => count > 0)
    if (begun < 0) return
    const leaving = leavingOf(length, { arriving, begun, steps })
    const keep = Math.exp(-length.hazard)
    const occupied = flow.occupancy[stage]!
    const next = flow.entering[stage + 1]!
    let inside = 0
    for (let step = begun; step < steps; step += 1) {
      inside = Math.max(0, inside * keep + arriving[step]! - leaving[step]!)
      occupied[step]! += inside
      next[step]! += leaving[step]!
    }
  })
}

/** Convolution of who enters with the length of the stage, less those who die in it. */
function leavingOf(
  length: StageLength,
  { arriving, begun, steps }: { arriving: Float64Array; begun: number; steps: number },
): Float64Array {
  const leaving = new Float64Array(steps)
  const shares = Float64Array.from({ length: length.last - length.first + 1 }, (_, index) => {
    const step = length.first + index
    return leavingShare(length, step) * Math.exp(-length.hazard * step)
  })
  for (let from = begun; from < steps; from += 1) {
    const count = arriving[from]!
    if (count === 0) continue
    const base = from + length.first
    const until = Math.min(shares.length, steps - base)
    for (let index = 0; index < until; index += 1) leaving[base + index]! += count * shares[index]!
  }
  return leaving
}
