import type { ClutchMoultCounts } from './clutch-moults'
import type { Fit } from './learning-fit'
import { SHARED, weighAnimal } from './learning-newton'
import type { DevelopmentParameters } from './parameters'

/**
 * What a workspace's records say about one species, as plain values that can be kept and read back. Effects
 * are on the log scale, in the order species, instar 0, 1, …; a clutch deviates by `mean`, less `gain` times
 * what the shared effects really are off, with `variance` of its own; an animal likewise, its last gain
 * being the clutch's.
 */
export type LearnedDevelopment = {
  shared: number[]
  sharedCovariance: number[][]
  clutches: Record<string, LearnedClutch>
  animals: Record<string, LearnedAnimal>
  /** Prior of a clutch or an animal without a record. */
  clutchLogSd: number
  animalLogSd: number
  noiseLogSd: number
  /** Completed instars the fit rests on. */
  instarsSeen: number
  threshold: LearnedThreshold
}

export type LearnedEffect = { mean: number; gain: number[]; variance: number }

/** `moultsToAdult` where its own animals said something of it; that of the species otherwise. */
export type LearnedClutch = LearnedEffect & { moultsToAdult?: ClutchMoultCounts }

export type LearnedAnimal = LearnedEffect & {
  clutchId: string
  /** How the running instar pulled: taken out again, as a forecast conditions on it anyway. */
  running: { slope: number; curvature: number; instar: number } | null
  wrongDates: WrongDate[]
}

/**
 * Chance that a date is mis-keyed, by the moults it is the start of. `chanceAtFirst` is that before the
 * running instar said anything: a forecast conditions on the running one anyway.
 */
export type WrongDate = { moults: number; chance: number; chanceAtFirst: number }

/** Lower threshold, °C: learned only where clutches stand at clearly different temperatures. */
export type LearnedThreshold = { lowerC: number; sdC: number; isLearned: boolean }

const WORTH_KEEPING = 0.005

export function learnedFromFit(fit: Fit, threshold: LearnedThreshold): LearnedDevelopment {
  const { state, sweep, ranges, animals, settings } = fit
  const learned: LearnedDevelopment = {
    shared: [...state.shared],
    sharedCovariance: rowsOf(sweep.covariance, SHARED),
    clutches: {},
    animals: {},
    clutchLogSd: settings.clutch('').sd,
    animalLogSd: settings.animalLogSd,
    noiseLogSd: settings.noiseLogSd,
    instarsSeen: 0,
    threshold,
  }
  ranges.forEach((range, index) => {
    const { gain, variance } = sweep.clutches[index]!
    learned.clutches[range.id] = { mean: state.clutches[index]!, gain: [...gain], variance }
    for (let at = range.first; at < range.end; at += 1) {
      const animal = animals[at]!
      const effects = { shared: state.shared, clutch: state.clutches[index]!, animal: state.animals[at]! }
      const own = sweep.animals[at]!
      learned.instarsSeen += animal.count * Math.max(0, animal.marks.length - 1)
      const known = {
        clutchId: range.id,
        mean: state.animals[at]!,
        gain: [...own.gain],
        variance: own.variance,
        ...judged(fit, at, effects),
      }
      for (const id of animal.ids) learned.animals[id] = known
    }
  })
  return learned
}

/** Pull of the running instar and the doubts about dates, over all courses of one animal. */
function judged(
  { animals, settings }: Fit,
  at: number,
  effects: { shared: Float64Array; clutch: number; animal: number },
): Pick<LearnedAnimal, 'running' | 'wrongDates'> {
  const { marks, isRunning } = animals[at]!
  const instar = marks.at(-1)?.moults ?? 0
  const atFirst = isRunning
    ? chancesOfWrong(animals[at]!, effects, { ...settings, usesRunning: false })
    : null
  let [slope, curvature] = [0, 0]
  const { groups } = weighAnimal(animals[at]!, effects, settings)
  for (const { belief, pulls } of groups) {
    for (const pull of pulls) {
      if (pull.step.end < marks.length || pull.step.from !== instar) continue
      slope += belief * pull.weight * pull.slope
      curvature += belief * pull.weight * pull.curvature
    }
  }
  const wrong = averageWrong(groups)
  return {
    running: !isRunning ? null : { slope, curvature, instar },
    wrongDates: wrong
      .map((chance, index) => ({
        moults: marks[index]!.moults,
        chance,
        chanceAtFirst: atFirst?.[index] ?? chance,
      }))
      .filter(({ chance, chanceAtFirst }) => Math.max(chance, chanceAtFirst) > WORTH_KEEPING),
  }
}

function chancesOfWrong(...animal: Parameters<typeof weighAnimal>): number[] {
  return averageWrong(weighAnimal(...animal).groups)
}

/** Over all courses of one animal. */
function averageWrong(groups: ReturnType<typeof weighAnimal>['groups']): number[] {
  return groups[0]!.wrongChances.map((_, index) =>
    groups.reduce((sum, { belief, wrongChances }) => sum + belief * wrongChances[index]!, 0),
  )
}

function rowsOf(matrix: Float64Array, size: number): number[][] {
  return Array.from({ length: size }, (_, row) => [...matrix.subarray(row * size, (row + 1) * size)])
}

/** Whose parameters: an animal on record, else its clutch, else any animal of the species. */
export type LearnedSubject = { clutchId: string | null; animalId?: string }

/** Parameters for one animal, ready for `forecastNextMoult`. O(13²). */
export function parametersOf(learned: LearnedDevelopment, subject: LearnedSubject): DevelopmentParameters {
  const animal = subject.animalId === undefined ? undefined : learned.animals[subject.animalId]
  const clutchId = animal?.clutchId ?? subject.clutchId
  const clutch = clutchId === null ? undefined : learned.clutches[clutchId]
  const joint = jointEffects(learned, clutch, animal)
  if (animal?.running) withoutRunning(joint, animal.running)
  return {
    species: joint.mean[0]!,
    byInstar: joint.mean.slice(1, SHARED),
    clutch: joint.mean[SHARED]!,
    animal: joint.mean[SHARED + 1]!,
    covariance: reordered(joint.covariance),
    noiseLogSd: learned.noiseLogSd,
    ...(clutch?.moultsToAdult ? { moultsToAdult: clutch.moultsToAdult } : {}),
  }
}

/** What a forecast with learned parameters rests on, for its reason. */
export type LearnedFrom = {
  /** Completed instars on record in this workspace. */
  moults: number
  /** How much longer the instars of its clutch are than the workspace's others, in per cent; null where not clear. */
  clutchPercent: number | null
}

const CLEAR_PERCENT = 3
const CLEAR_SDS = 1.3

export function learnedFrom(learned: LearnedDevelopment, subject: LearnedSubject): LearnedFrom {
  const animal = subject.animalId === undefined ? undefined : learned.animals[subject.animalId]
  const clutch = learned.clutches[animal?.clutchId ?? subject.clutchId ?? '']
  const percent = clutch ? Math.round(100 * Math.expm1(clutch.mean)) : 0
  const isClear =
    clutch !== undefined &&
    Math.abs(percent) >= CLEAR_PERCENT &&
    Math.abs(clutch.mean) >= CLEAR_SDS * Math.sqrt(clutch.variance)
  return { moults: learned.instarsSeen, clutchPercent: isClear ? percent : null }
}

type Joint = { mean: number[]; covariance: number[][] }

/** Shared effects, clutch, animal: means and covariance. */
function jointEffects(
  learned: LearnedDevelopment,
  clutch: LearnedEffect | undefined,
  animal: LearnedEffect | undefined,
): Joint {
  const mean = [...learned.shared, clutch?.mean ?? 0, animal?.mean ?? 0]
  const covariance = learned.sharedCovariance.map((row) => [...row])
  const append = (effect: LearnedEffect) => {
    const size = covariance.length
    const cross = covariance.map(
      (row) => -row.reduce((sum, cell, index) => sum + cell * effect.gain[index]!, 0),
    )
    const own = effect.variance - cross.reduce((sum, cell, index) => sum + cell * effect.gain[index]!, 0)
    covariance.forEach((row, index) => {
      row.push(cross[index]!)
    })
    covariance.push([...cross.slice(0, size), own])
  }
  const unknown = (size: number, logSd: number) => ({
    mean: 0,
    gain: Array.from({ length: size }, () => 0),
    variance: logSd ** 2,
  })
  append(clutch ?? unknown(SHARED, learned.clutchLogSd))
  append(animal ?? unknown(SHARED + 1, learned.animalLogSd))
  return { mean, covariance }
}

/** Removes one observation from a Gaussian: the exact rank-one downdate of its Laplace site. */
function withoutRunning(joint: Joint, running: { slope: number; curvature: number; instar: number }): void {
  const size = joint.mean.length
  const columns = [0, sharedColumn(running.instar), SHARED, SHARED + 1]
  const along = joint.covariance.map((row) => columns.reduce((sum, column) => sum + row[column]!, 0))
  const variance = columns.reduce((sum, column) => sum + along[column]!, 0)
  const left = Math.max(1e-3, 1 - running.curvature * variance)
  for (let row = 0; row < size; row += 1) {
    joint.mean[row]! -= (along[row]! * running.slope) / left
    for (let column = 0; column < size; column += 1)
      joint.covariance[row]![column]! += (along[row]! * along[column]! * running.curvature) / left
  }
}

function sharedColumn(instar: number): number {
  return 1 + Math.min(instar, SHARED - 2)
}

/** From species, instars, clutch, animal to the order of the parameters: species, clutch, animal, instars. */
function reordered(covariance: number[][]): number[][] {
  const order = [0, SHARED, SHARED + 1, ...Array.from({ length: SHARED - 1 }, (_, index) => 1 + index)]
  return order.map((row) => order.map((column) => covariance[row]![column]!))
}

/** Dates that are more likely wrong than right, likeliest first: to be pointed out and asked about. */
export type DoubtfulDate = { animalId: string; moults: number; chance: number }

export function listDoubtfulDates(learned: LearnedDevelopment, least = 0.5): DoubtfulDate[] {
  return Object.entries(learned.animals)
    .flatMap(([animalId, { wrongDates }]) =>
      wrongDates.map(({ moults, chance }) => ({ animalId, moults, chance })),
    )
    .filter(({ chance }) => chance >= least)
    .sort((a, b) => b.chance - a.chance || (a.animalId < b.animalId ? -1 : 1) || a.moults - b.moults)
}
