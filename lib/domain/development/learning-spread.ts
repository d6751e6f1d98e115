import type { AnimalEvidence, Step } from './learning-evidence'
import {
  type ClutchRange,
  type FitState,
  SHARED,
  type Sweep,
  sharedIndex,
  weighAnimal,
} from './learning-newton'
import type { LearningSettings, Prior } from './learning-settings'

/** A point of a fit, with what is left unknown there. */
export type SpreadSource = {
  animals: readonly AnimalEvidence[]
  ranges: readonly ClutchRange[]
  settings: LearningSettings
  state: FitState
  sweep: Sweep
}

const SMALLEST_NOISE = 0.03
const LEAST_SCALE = 0.4
const MOST_SCALE = 2.5

/**
 * How wide clutches, animals, instars and the noise spread in this workspace, found at a point of the fit
 * together with the prior as if it were so many records. An effect that the records say nothing of counts
 * for nothing; one they fully settle counts as one (MacKay 1992, "effective number of parameters").
 */
export function learnedSpreads(at: SpreadSource, prior: LearningSettings): LearningSettings {
  const byInstar = new ScaleSum()
  at.settings.byInstar.forEach((current, instar) => {
    const place = sharedIndex(instar)
    const value = at.state.shared[place]!
    byInstar.add({
      value,
      variance: at.sweep.covariance[place * SHARED + place]!,
      current,
      base: prior.byInstar[instar]!,
    })
  })
  const clutches = new ScaleSum()
  const animals = new ScaleSum()
  const noise = { squares: prior.noiseRecords * prior.noiseLogSd ** 2, records: prior.noiseRecords }
  const animalPrior = {
    current: { mean: 0, sd: at.settings.animalLogSd },
    base: { mean: 0, sd: prior.animalLogSd },
  }
  at.ranges.forEach((range, index) => {
    const { id, first, end } = range
    const variance = clutchVariance(at.sweep, index)
    const value = at.state.clutches[index]!
    clutches.add({ value, variance, current: at.settings.clutch(id), base: prior.clutch(id) })
    for (let animal = first; animal < end; animal += 1) {
      const own = { value: at.state.animals[animal]!, variance: animalVariance(at.sweep, index, animal) }
      animals.add({ ...own, ...animalPrior }, at.animals[animal]!.count)
      addNoise(noise, at, { clutch: index, animal })
    }
  })
  const { spreadRecords } = prior
  const ofInstars = byInstar.scale(spreadRecords.byInstar)
  const ofClutches = clutches.scale(spreadRecords.clutch)
  return {
    ...prior,
    byInstar: prior.byInstar.map((one) => scaled(one, ofInstars)),
    clutch: (id) => scaled(prior.clutch(id), ofClutches),
    animalLogSd: prior.animalLogSd * animals.scale(spreadRecords.animal),
    noiseLogSd: Math.max(SMALLEST_NOISE, Math.sqrt(Math.max(0, noise.squares / noise.records))),
  }
}

function scaled(prior: Prior, scale: number): Prior {
  return { mean: prior.mean, sd: prior.sd * scale }
}

/** Mean square of effects of one kind as a multiple of their prior's. */
class ScaleSum {
  private squares = 0
  private settled = 0

  add(effect: { value: number; variance: number; current: Prior; base: Prior }, count = 1): void {
    const { value, variance, current, base } = effect
    this.squares += count * ((value - base.mean) / base.sd) ** 2
    this.settled += count * Math.max(0, 1 - variance / current.sd ** 2)
  }

  scale(records: number): number {
    if (!Number.isFinite(records)) return 1
    const scale = Math.sqrt((records + this.squares) / (records + this.settled))
    return Math.min(MOST_SCALE, Math.max(LEAST_SCALE, scale))
  }
}

/**
 * Mean square of what the effects do not explain of completed instars, each counted with what is still
 * unknown of its effects.
 */
function addNoise(
  noise: { squares: number; records: number },
  at: SpreadSource,
  place: { clutch: number; animal: number },
): void {
  const animal = at.animals[place.animal]!
  if (!animal.steps.some(({ logLength }) => logLength !== null)) return
  const { shared, clutches, animals } = at.state
  const effects = { shared, clutch: clutches[place.clutch]!, animal: animals[place.animal]! }
  for (const { belief, pulls } of weighAnimal(animal, effects, at.settings).groups) {
    for (const { step, weight, logMean } of pulls) {
      if (step.logLength === null) continue
      const counted = animal.count * belief * weight
      const spread = lengthVariance(at.sweep, { ...place, instar: step.from })
      const surprise = (step.logLength - logMean) ** 2
      noise.squares += counted * (surprise + spread - dateVariance(animal, step, at.settings))
      noise.records += counted
    }
  }
}

/** Variance that the width of both dates adds to ln of a length, bounded by the noise itself. */
function dateVariance(animal: AnimalEvidence, step: Step, settings: LearningSettings): number {
  const length = Math.max(3, Math.exp(step.logLength ?? 0))
  const ending = animal.marks[step.end]!.width ** 2 / (12 * length * length)
  return Math.min(step.startVariance + ending, settings.noiseLogSd ** 2)
}

function clutchVariance(sweep: Sweep, index: number): number {
  const { gain, variance } = sweep.clutches[index]!
  return variance + quadratic(sweep.covariance, gain)
}

function animalVariance(sweep: Sweep, clutchIndex: number, animalIndex: number): number {
  const animal = sweep.animals[animalIndex]!
  const clutch = sweep.clutches[clutchIndex]!
  const onClutch = animal.gain[SHARED]!
  const row = clutch.gain.map((gain, index) => onClutch * gain - animal.gain[index]!)
  return animal.variance + onClutch ** 2 * clutch.variance + quadratic(sweep.covariance, row)
}

/** Posterior variance of species + clutch + animal + instar. */
function lengthVariance(sweep: Sweep, of: { clutch: number; animal: number; instar: number }): number {
  const clutch = sweep.clutches[of.clutch]!
  const animal = sweep.animals[of.animal]!
  const onClutch = 1 - animal.gain[SHARED]!
  const row = clutch.gain.map((gain, index) => -animal.gain[index]! - onClutch * gain)
  row[0]! += 1
  row[sharedIndex(of.instar)]! += 1
  return animal.variance + onClutch ** 2 * clutch.variance + quadratic(sweep.covariance, row)
}

function quadratic(covariance: Float64Array, row: Float64Array): number {
  let sum = 0
  for (let i = 0; i < SHARED; i += 1) {
    if (row[i] === 0) continue
    for (let j = 0; j < SHARED; j += 1) sum += row[i]! * row[j]! * covariance[i * SHARED + j]!
  }
  return sum
}
