import {
  choleskyFactor,
  inverseOfFactored,
  logDeterminant,
  type SquareMatrix,
  solveFactored,
} from '../probability/linear-algebra'
import { type ChainResult, weighChain } from './learning-chain'
import type { AnimalEvidence } from './learning-evidence'
import { LEARNED_INSTARS, type LearningSettings } from './learning-settings'

/**
 * The joint fit: species bias and a bias per instar (`shared`, in this order), a growth per clutch, one per
 * animal. Newton steps on the log posterior; the weights of paths and courses are those at the present
 * point, so each step is one of an EM that cannot run away. Animals hang on clutches and clutches on the
 * shared effects, so both are eliminated one by one: O(animals + clutches), with 13 × 13 systems only.
 */
export const SHARED = 1 + LEARNED_INSTARS

export type FitState = { shared: Float64Array; clutches: Float64Array; animals: Float64Array }

/** Animals by clutch: `animals[first … end)` belong to it. */
export type ClutchRange = { id: string; first: number; end: number }

/** What elimination leaves behind: effect = mean − gain · (deviation of what it hangs on), and its own variance. */
export type Elimination = { gain: Float64Array; variance: number }

export type Sweep = {
  logPosterior: number
  step: FitState
  /** Covariance of the shared effects. */
  covariance: SquareMatrix
  clutches: Elimination[]
  /** Gains: shared effects, then the clutch. */
  animals: Elimination[]
  /** ½ ln det of the curvature of everything, for comparing fits. */
  halfLogDeterminant: number
}

export function clutchRanges(animals: readonly AnimalEvidence[]): ClutchRange[] {
  const ranges: ClutchRange[] = []
  animals.forEach(({ clutch }, index) => {
    const current = ranges.at(-1)
    if (current?.id === clutch) current.end = index + 1
    else ranges.push({ id: clutch, first: index, end: index + 1 })
  })
  return ranges
}

/** Position of an instar among the shared effects. */
export function sharedIndex(instar: number): number {
  return 1 + Math.min(instar, LEARNED_INSTARS - 1)
}

/** One animal's records weighed at a point: on each of its courses, with how much each course is believed. */
export function weighAnimal(
  animal: AnimalEvidence,
  effects: { shared: Float64Array; clutch: number; animal: number },
  settings: LearningSettings,
): { logChance: number; groups: (ChainResult & { belief: number })[] } {
  const { shared } = effects
  const shift = shared[0]! + effects.clutch + effects.animal
  const groups: (ChainResult & { belief: number })[] = []
  let total = 0
  for (const { logMedians, weight } of animal.groups) {
    const lengths = logMedians.map((log, instar) => log + shift + shared[sharedIndex(instar)]!)
    const { chance, pulls, wrongChances } = weighChain(animal, lengths, settings)
    const belief = weight * chance
    total += belief
    groups.push({ chance, pulls, wrongChances, belief })
  }
  for (const group of groups) group.belief = total > 0 ? group.belief / total : 1 / groups.length
  return { logChance: Math.log(Math.max(1e-300, total)), groups }
}

/** Log posterior, Newton step and curvature at a point. */
export function sweep(
  problem: { animals: readonly AnimalEvidence[]; ranges: readonly ClutchRange[]; settings: LearningSettings },
  state: FitState,
): Sweep {
  const { animals, ranges, settings } = problem
  const top = new Accumulator(SHARED)
  let logPosterior = addSharedPrior(top, state.shared, settings)
  let halfLogDeterminant = 0
  const animalParts: (Elimination & { residual: number })[] = []
  const clutchParts: (Elimination & { residual: number })[] = []
  const scratch = new Accumulator(SHARED + 2)
  ranges.forEach((range, index) => {
    const level = new Accumulator(SHARED + 1)
    for (let at = range.first; at < range.end; at += 1) {
      const part = animalPart(animals[at]!, settings, {
        shared: state.shared,
        clutch: state.clutches[index]!,
        animal: state.animals[at]!,
        scratch,
      })
      logPosterior += part.logPosterior
      const { eliminated, count } = part
      halfLogDeterminant -= (count * Math.log(eliminated.variance)) / 2
      level.add(part.level, count)
      animalParts.push(eliminated)
    }
    const prior = settings.clutch(range.id)
    const off = state.clutches[index]! - prior.mean
    logPosterior -= off ** 2 / (2 * prior.sd ** 2) + Math.log(prior.sd)
    level.addOwn(SHARED, 1 / prior.sd ** 2, -off / prior.sd ** 2)
    const eliminated = level.eliminate(SHARED)
    halfLogDeterminant -= Math.log(eliminated.variance) / 2
    top.add(level, 1)
    clutchParts.push(eliminated)
  })
  const factor = choleskyFactor(top.curvature, SHARED)
  const shared = solveFactored(factor, top.slope)
  const clutches = new Float64Array(ranges.length)
  const steps = new Float64Array(animals.length)
  ranges.forEach((range, index) => {
    const clutch = clutchParts[index]!
    clutches[index] = clutch.residual - dot(clutch.gain, shared)
    for (let at = range.first; at < range.end; at += 1) {
      const animal = animalParts[at]!
      steps[at] = animal.residual - dot(animal.gain, shared) - animal.gain[SHARED]! * clutches[index]!
    }
  })
  return {
    logPosterior,
    step: { shared, clutches, animals: steps },
    covariance: inverseOfFactored(factor, SHARED),
    clutches: clutchParts,
    animals: animalParts,
    halfLogDeterminant: halfLogDeterminant + logDeterminant(factor, SHARED) / 2,
  }
}

function dot(gain: Float64Array, step: Float64Array): number {
  let sum = 0
  for (let index = 0; index < step.length; index += 1) sum += gain[index]! * step[index]!
  return sum
}

function addSharedPrior(top: Accumulator, shared: Float64Array, settings: LearningSettings): number {
  let logPrior = 0
  const priors = [settings.species, ...settings.byInstar]
  priors.forEach((prior, index) => {
    const off = shared[index]! - prior.mean
    top.addOwn(index, 1 / prior.sd ** 2, -off / prior.sd ** 2)
    logPrior -= off ** 2 / (2 * prior.sd ** 2) + Math.log(prior.sd)
  })
  return logPrior
}

/** One animal (or a number of alike ones) with its own growth eliminated. */
function animalPart(
  animal: AnimalEvidence,
  settings: LearningSettings,
  effects: { shared: Float64Array; clutch: number; animal: number; scratch: Accumulator },
) {
  const { scratch } = effects
  const own = SHARED + 1
  const level = scratch.cleared()
  const { logChance, groups } = weighAnimal(animal, effects, settings)
  for (const { belief, pulls } of groups) {
    for (const { step, weight, slope, curvature, shares } of pulls) {
      const strength = belief * weight
      if (strength < 1e-9) continue
      const pull = { slope: slope * strength, curvature: curvature * strength, from: step.from, shares }
      level.addObservation(pull)
    }
  }
  const variance = settings.animalLogSd ** 2
  level.addOwn(own, 1 / variance, -effects.animal / variance)
  const eliminated = level.eliminate(own)
  const logPrior = -(effects.animal ** 2) / (2 * variance) - Math.log(settings.animalLogSd)
  return { level, eliminated, count: animal.count, logPosterior: animal.count * (logChance + logPrior) }
}

type Observation = { slope: number; curvature: number; from: number; shares: readonly number[] }

/** Slope and (negative) curvature of a log posterior in the first effects of the order shared, clutch, animal. */
class Accumulator {
  readonly slope: Float64Array
  readonly curvature: SquareMatrix
  constructor(readonly size: number) {
    this.slope = new Float64Array(size)
    this.curvature = new Float64Array(size * size)
  }

  cleared(): this {
    this.slope.fill(0)
    this.curvature.fill(0)
    return this
  }

  addOwn(index: number, curvature: number, slope: number): void {
    this.slope[index]! += slope
    this.curvature[index * this.size + index]! += curvature
  }

  /** A length that hangs on the species, on the clutch and animal (the last two) and, by shares, on instars. */
  addObservation(seen: Observation): void {
    this.addAlong(0, 1, seen)
    this.addAlong(this.size - 2, 1, seen)
    this.addAlong(this.size - 1, 1, seen)
    for (let index = 0; index < seen.shares.length; index += 1)
      this.addAlong(sharedIndex(seen.from + index), seen.shares[index]!, seen)
  }

  private addAlong(place: number, part: number, seen: Observation): void {
    this.slope[place]! += seen.slope * part
    const row = place * this.size
    const weight = seen.curvature * part
    this.curvature[row]! += weight
    this.curvature[row + this.size - 2]! += weight
    this.curvature[row + this.size - 1]! += weight
    for (let index = 0; index < seen.shares.length; index += 1)
      this.curvature[row + sharedIndex(seen.from + index)]! += weight * seen.shares[index]!
  }

  /** Adds the first effects of a larger one, `times` times. */
  add(other: Accumulator, times: number): void {
    for (let row = 0; row < this.size; row += 1) {
      this.slope[row]! += times * other.slope[row]!
      for (let column = 0; column < this.size; column += 1)
        this.curvature[row * this.size + column]! += times * other.curvature[row * other.size + column]!
    }
  }

  /** Takes the last effect out of the others (Schur complement). */
  eliminate(last: number): Elimination & { residual: number } {
    const base = last * this.size
    const pivot = this.curvature[base + last]!
    const gain = new Float64Array(last)
    for (let index = 0; index < last; index += 1) gain[index] = this.curvature[base + index]! / pivot
    const residual = this.slope[last]! / pivot
    for (let row = 0; row < last; row += 1) {
      if (gain[row] === 0) continue
      const cross = this.curvature[base + row]!
      this.slope[row]! -= cross * residual
      for (let column = 0; column < last; column += 1)
        this.curvature[row * this.size + column]! -= cross * gain[column]!
    }
    return { gain, variance: 1 / pivot, residual }
  }
}
