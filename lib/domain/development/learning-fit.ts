import type { AnimalEvidence } from './learning-evidence'
import { type ClutchRange, clutchRanges, type FitState, type Sweep, sweep } from './learning-newton'
import type { LearningSettings } from './learning-settings'
import { learnedSpreads } from './learning-spread'

/** A fit at its highest point: effects, what is left unknown, and the noise that was found. */
export type Fit = {
  animals: readonly AnimalEvidence[]
  ranges: ClutchRange[]
  settings: LearningSettings
  state: FitState
  sweep: Sweep
  /** Log of the evidence for the settings (Laplace), up to a constant. */
  logEvidence: number
}

const MOST_STEPS = 40
const MOST_HALVINGS = 6
/** Steps below this are no news (0.01 % of a length); while the spreads still move, ten times that is enough. */
const SMALLEST_STEP = 1e-4
const ROUGH_STEP = 1e-3
const SPREAD_ROUNDS = 3

/**
 * Joint MAP by damped Newton steps, with the spreads re-estimated in between. Deterministic. `near` is a fit
 * of the same animals to start from; `keepsSpreads` takes its spreads as they are, so that fits compare.
 */
export function fitDevelopment(
  animals: readonly AnimalEvidence[],
  settings: LearningSettings,
  start: { near?: Fit; keepsSpreads?: boolean } = {},
): Fit {
  const ranges = clutchRanges(animals)
  const { near } = start
  const isNear = near !== undefined && near.animals.length === animals.length
  let problem: Problem = { animals, ranges, settings: isNear ? near.settings : settings }
  let state = isNear ? near.state : climb(blurred(problem), startState(problem), ROUGH_STEP).state
  const learnsSpreads = Number.isFinite(settings.noiseRecords) && !(isNear && start.keepsSpreads)
  for (let round = 0; round < SPREAD_ROUNDS && learnsSpreads; round += 1) {
    const found = climb(problem, state, ROUGH_STEP)
    problem = { animals, ranges, settings: learnedSpreads({ ...problem, ...found }, settings) }
    state = found.state
  }
  const found = climb(problem, state, SMALLEST_STEP)
  const logEvidence = found.sweep.logPosterior - found.sweep.halfLogDeterminant
  return { ...problem, ...found, logEvidence }
}

/**
 * With the effects still at nothing a clutch that is merely slow looks like mis-keyed dates, and would never
 * get away from there: the first climb takes the whole spread for noise.
 */
function blurred(problem: Problem): Problem {
  const { noiseLogSd, animalLogSd, clutch } = problem.settings
  const whole = Math.hypot(noiseLogSd, animalLogSd, clutch('').sd)
  return { ...problem, settings: { ...problem.settings, noiseLogSd: whole } }
}

type Problem = { animals: readonly AnimalEvidence[]; ranges: ClutchRange[]; settings: LearningSettings }

function startState({ animals, ranges, settings }: Problem): FitState {
  const shared = Float64Array.from([settings.species, ...settings.byInstar].map(({ mean }) => mean))
  const clutches = Float64Array.from(ranges.map(({ id }) => settings.clutch(id).mean))
  return { shared, clutches, animals: new Float64Array(animals.length) }
}

function climb(problem: Problem, start: FitState, smallest: number): { state: FitState; sweep: Sweep } {
  let state = start
  let here = sweep(problem, state)
  for (let count = 0; count < MOST_STEPS && largest(here.step) > smallest; count += 1) {
    let size = 1
    let next = moved(state, here.step, size)
    let there = sweep(problem, next)
    for (let half = 0; half < MOST_HALVINGS && there.logPosterior < here.logPosterior - 1e-9; half += 1) {
      size /= 2
      next = moved(state, here.step, size)
      there = sweep(problem, next)
    }
    if (there.logPosterior < here.logPosterior - 1e-9) break
    state = next
    here = there
  }
  return { state, sweep: here }
}

function moved(state: FitState, step: FitState, size: number): FitState {
  const along = (from: Float64Array, by: Float64Array) =>
    from.map((value, index) => value + size * by[index]!)
  return {
    shared: along(state.shared, step.shared),
    clutches: along(state.clutches, step.clutches),
    animals: along(state.animals, step.animals),
  }
}

function largest(step: FitState): number {
  let most = 0
  for (const part of [step.shared, step.clutches, step.animals])
    for (const value of part) most = Math.max(most, Math.abs(value))
  return most
}
