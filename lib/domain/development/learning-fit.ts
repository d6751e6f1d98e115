import type { AnimalEvidence, Step } from './learning-evidence'
import {
  type ClutchRange,
  clutchRanges,
  type FitState,
  SHARED,
  type Sweep,
  sharedIndex,
  sweep,
  weighAnimal,
} from './learning-newton'
import type { LearningSettings } from './learning-settings'

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
/** Steps below this are no news (0.01 % of a length); while the noise still moves, ten times that is enough. */
const SMALLEST_STEP = 1e-4
const ROUGH_STEP = 1e-3
const NOISE_ROUNDS = 3
const SMALLEST_NOISE = 0.03

/**
 * Joint MAP by damped Newton steps, with the noise between instars re-estimated in between. Deterministic.
 * `near` is a fit of the same animals to start from.
 */
export function fitDevelopment(
  animals: readonly AnimalEvidence[],
  settings: LearningSettings,
  near?: Fit,
): Fit {
  const ranges = clutchRanges(animals)
  const learnsNoise = Number.isFinite(settings.noiseRecords)
  const isNear = near !== undefined && near.animals.length === animals.length
  let problem: Problem = { animals, ranges, settings: isNear ? near.settings : settings }
  let state = isNear ? near.state : startState(problem)
  for (let round = 0; round < NOISE_ROUNDS && learnsNoise; round += 1) {
    const found = climb(problem, state, ROUGH_STEP)
    const noiseLogSd = noiseOf({ ...problem, ...found }, settings)
    problem = { animals, ranges, settings: { ...settings, noiseLogSd } }
    state = found.state
  }
  const found = climb(problem, state, SMALLEST_STEP)
  const logEvidence = found.sweep.logPosterior - found.sweep.halfLogDeterminant
  return { ...problem, ...found, logEvidence }
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

/**
 * Noise between the instars of one animal: mean square of what the effects do not explain, each counted with
 * what is still unknown of its effects, together with the prior as if it were so many records.
 */
function noiseOf(
  { animals, ranges, settings, state, sweep: here }: Problem & { state: FitState; sweep: Sweep },
  prior: LearningSettings,
): number {
  let squares = prior.noiseRecords * prior.noiseLogSd ** 2
  let records = prior.noiseRecords
  ranges.forEach((range, index) => {
    for (let at = range.first; at < range.end; at += 1) {
      const animal = animals[at]!
      const effects = { shared: state.shared, clutch: state.clutches[index]!, animal: state.animals[at]! }
      for (const { belief, pulls } of weighAnimal(animal, effects, settings).groups) {
        for (const { step, weight, logMean } of pulls) {
          if (step.logLength === null) continue
          const counted = animal.count * belief * weight
          const spread = effectVariance(here, { clutch: index, animal: at, instar: step.from })
          squares +=
            counted * ((step.logLength - logMean) ** 2 + spread - dateVariance(animal, step, settings))
          records += counted
        }
      }
    }
  })
  return Math.max(SMALLEST_NOISE, Math.sqrt(Math.max(0, squares / records)))
}

/** Variance that the width of both dates adds to ln of a length, bounded by the noise itself. */
function dateVariance(animal: AnimalEvidence, step: Step, settings: LearningSettings): number {
  const length = Math.max(3, Math.exp(step.logLength ?? 0))
  const ending = animal.marks[step.end]!.width ** 2 / (12 * length * length)
  return Math.min(step.startVariance + ending, settings.noiseLogSd ** 2)
}

/** Posterior variance of species + clutch + animal + instar. */
function effectVariance(here: Sweep, of: { clutch: number; animal: number; instar: number }): number {
  const clutch = here.clutches[of.clutch]!
  const animal = here.animals[of.animal]!
  const onClutch = 1 - animal.gain[SHARED]!
  const row = new Float64Array(SHARED)
  row[0] = 1
  row[sharedIndex(of.instar)]! += 1
  for (let index = 0; index < SHARED; index += 1)
    row[index]! -= animal.gain[index]! + onClutch * clutch.gain[index]!
  let variance = animal.variance + onClutch ** 2 * clutch.variance
  for (let i = 0; i < SHARED; i += 1)
    for (let j = 0; j < SHARED; j += 1) variance += row[i]! * row[j]! * here.covariance[i * SHARED + j]!
  return variance
}
