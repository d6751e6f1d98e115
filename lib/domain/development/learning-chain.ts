import { type IntervalChance, normalIntervalChance } from '../probability/normal-interval'
import type { AnimalEvidence, Step } from './learning-evidence'

/**
 * One animal's dates against expected lengths of its instars. Any date may be mis-keyed: a wrong date spoils
 * the instar before it and the one after it, but their sum still stands. So all ways to believe some dates
 * and not the others are weighed, as paths over the believed dates: a step from one believed date to the
 * next spans one instar or, over disbelieved dates, up to three. A running instar is a last step that is
 * longer than what has passed; it too may be wrong (a moult that nobody saw). A date that a person has confirmed is
 * believed whatever it costs. O(3 × dates).
 */
export type ChainSettings = {
  noiseLogSd: number
  /** Share of dates that are mis-keyed; 0 believes everything. */
  wrongShare: number
  usesRunning: boolean
}

/**
 * A step that was weighed: how much it is believed, and how its log-likelihood pulls at the logarithm of
 * its length. `shares[i]` is the part of instar `step.from + i` in that length.
 */
export type Pull = {
  step: Step
  weight: number
  slope: number
  curvature: number
  shares: readonly number[]
  logMean: number
  chance: number
}

export type ChainResult = { chance: number; pulls: Pull[]; wrongChances: number[] }

/** A mis-keyed date may be anywhere in so many effective days. */
const WRONG_SPAN_DAYS = 60
const WHOLE = [1]

export function weighChain(
  animal: Pick<AnimalEvidence, 'marks' | 'steps'>,
  logLengths: readonly number[],
  settings: ChainSettings,
): ChainResult {
  const { marks } = animal
  const { wrongShare } = settings
  const size = marks.length
  // Chance that a date is wrong and yet where it is, and that of all after a mark being so.
  const wrong: number[] = []
  const forward: number[] = []
  const backward: number[] = []
  for (let index = 0; index < size; index += 1) {
    const { width, isSure } = marks[index]!
    wrong.push(isSure ? 0 : wrongShare * Math.min(1, width / WRONG_SPAN_DAYS))
    forward.push(index === 0 ? 1 : 0)
  }
  for (let index = 0; index < size; index += 1) backward.push(chanceOfGap(wrong, index, size))
  const pulls: Pull[] = []
  for (const step of animal.steps) {
    const isRunning = step.end === size
    if (isRunning && !settings.usesRunning) continue
    if (wrongShare === 0 && step.end - step.start > 1) continue
    const pull = pullOf(step, logLengths, settings.noiseLogSd)
    const believed = (1 - wrongShare) * pull.chance
    pulls.push(pull)
    if (isRunning) {
      pull.chance = backward[step.start]! * believed
      backward[step.start]! *= believed + wrongShare
    } else {
      pull.chance = chanceOfGap(wrong, step.start, step.end) * believed
      forward[step.end]! += forward[step.start]! * pull.chance
    }
  }
  let chance = 0
  for (let index = 0; index < size; index += 1) chance += forward[index]! * backward[index]!
  // Confirmed, and yet so far off that no chance is left to reckon with: then it is weighed like any other.
  if (!(chance > 0) && marks.some(({ isSure }) => isSure))
    return weighChain(unsure(animal), logLengths, settings)
  for (let index = pulls.length - 1; index >= 0; index -= 1) {
    const pull = pulls[index]!
    const { start, end } = pull.step
    const after = end === size ? 1 : backward[end]!
    pull.weight = (forward[start]! * pull.chance * after) / chance
    if (end < size) backward[start]! += pull.chance * after
  }
  const wrongChances = forward.map((ahead, index) => Math.max(0, 1 - (ahead * backward[index]!) / chance))
  return { chance, pulls, wrongChances }
}

function unsure<A extends Pick<AnimalEvidence, 'marks' | 'steps'>>({ marks, steps }: A) {
  return { steps, marks: marks.map((mark) => ({ ...mark, isSure: false })) }
}

/** All dates between two marks wrong. */
function chanceOfGap(wrong: readonly number[], start: number, end: number): number {
  let chance = 1
  for (let between = start + 1; between < end; between += 1) chance *= wrong[between]!
  return chance
}

/** How one step's span of effective days pulls at the logarithm of its length. */
function pullOf(step: Step, logLengths: readonly number[], noiseLogSd: number): Pull {
  const noise = noiseLogSd * noiseLogSd
  if (step.until - step.from === 1) {
    const logMean = logLengths[step.from]!
    const found = normalIntervalChance(step.limits, logMean, Math.sqrt(noise + step.startVariance))
    return pullFrom(step, found, { shares: WHOLE, logMean })
  }
  // Several instars: the lognormal with the mean and variance of their sum.
  const means = logLengths.slice(step.from, step.until).map((log) => Math.exp(log + noise / 2))
  const mean = means.reduce((sum, one) => sum + one, 0)
  const squares = means.reduce((sum, one) => sum + one * one, 0)
  const logVariance = Math.log1p((squares * Math.expm1(noise)) / (mean * mean))
  const logMean = Math.log(mean) - logVariance / 2
  const found = normalIntervalChance(step.limits, logMean, Math.sqrt(logVariance + step.startVariance))
  return pullFrom(step, found, { shares: means.map((one) => one / mean), logMean })
}

function pullFrom(step: Step, found: IntervalChance, length: Pick<Pull, 'shares' | 'logMean'>): Pull {
  const { chance, slope, curvature } = found
  return { step, weight: 0, slope, curvature, shares: length.shares, logMean: length.logMean, chance }
}
