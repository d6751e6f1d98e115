import type { CareProfile } from '../care-profile/profile'
import { rate, thresholdsOf } from '../development/clock'
import type { LearnedInstarCounts } from '../development/instar-count'
import { meanInstarDays, relativeLength, type SexKnown } from '../development/instar-length'
import type { LearnedDevelopment } from '../development/posterior'
import type { LearnedHatch } from '../hatch/learning'
import { Z_OF_90 } from '../probability/normal'
import { LOSS_SHAPE, LOSS_SPREAD, type LossScale } from '../separation/loss-scale'
import { isSeenEnough, type LearnedSurvival, SURVIVAL_SLOTS } from './survival'

/** What own records say of one value of a care profile: 10–90 % of what it may be, and from how many of what. */
export type OwnValue = {
  path: string
  value: number
  low: number
  high: number
  count: number
  of: OwnSource
}
export type OwnSource = 'moult' | 'adult' | 'animal' | 'hatch' | 'egg case' | 'clutch'

export type OwnFit = {
  growth: CareProfile['growth']
  development: Pick<
    LearnedDevelopment,
    'shared' | 'sharedCovariance' | 'noiseLogSd' | 'animalLogSd' | 'instarsSeen' | 'threshold'
  >
  instarCounts: LearnedInstarCounts
  /** Missing in a fit that was stored before it was learned. */
  survival?: LearnedSurvival
  hatch: LearnedHatch
}

/** Values of which own records say anything; the others stand on their source alone. */
export function listOwnValues(profile: CareProfile, fit: OwnFit): OwnValue[] {
  const grown = { ...profile, growth: fit.growth }
  const sexes = ['male', 'female'] as const
  return [
    ...sexes.flatMap((sex) => [...daysToAdult(grown, fit, sex), ...moultsToAdult(fit, sex)]),
    ...spreads(fit),
    ...survivals(fit.survival),
    ...hatching(grown, fit.hatch),
  ]
}

/** Days at the reference temperature, over the usual number of instars. */
function daysToAdult(profile: CareProfile, { development }: OwnFit, sex: SexKnown): OwnValue[] {
  const { shared, sharedCovariance, instarsSeen } = development
  if (instarsSeen === 0) return []
  const typical = profile.growth.moultsToAdult[sex].value.typical
  const gradient = shared.map(() => 0)
  let days = 0
  for (let moults = 0; moults < typical; moults += 1) {
    const place = 1 + Math.min(moults, shared.length - 2)
    const length =
      meanInstarDays(profile, sex) *
      relativeLength(profile.growth.relativeLengths.value, moults, typical) *
      Math.exp(shared[0]! + shared[place]!)
    days += length
    gradient[0]! += length
    gradient[place]! += length
  }
  const variance = gradient.reduce(
    (sum, one, row) =>
      sum + gradient.reduce((part, other, column) => part + one * other * sharedCovariance[row]![column]!, 0),
    0,
  )
  const logSd = Math.sqrt(variance) / days
  return [spread({ path: `growth.daysToAdult.${sex}.value`, count: instarsSeen, of: 'moult' }, days, logSd)]
}

function moultsToAdult({ growth, instarCounts }: OwnFit, sex: SexKnown): OwnValue[] {
  const { adultsSeen, budsSeen = 0, shares } = instarCounts[sex]
  // A nymph with wing buds says as much of the number as an adult.
  const count = adultsSeen + budsSeen
  if (count === 0) return []
  const { typical, oneFewerShare, oneMoreShare } = growth.moultsToAdult[sex].value
  const base = { count, of: 'adult' as const }
  const sdOf = (is: (totalMoults: number) => boolean) =>
    Math.hypot(...shares.filter(({ totalMoults }) => is(totalMoults)).map(({ sd }) => sd), 0)
  const share = (name: string, value: number, sd: number): OwnValue => ({
    ...base,
    path: `growth.moultsToAdult.${sex}.value.${name}`,
    value: round(value, 3),
    low: round(Math.max(0, value - Z_OF_90 * sd), 3),
    high: round(Math.min(1, value + Z_OF_90 * sd), 3),
  })
  return [
    {
      ...base,
      path: `growth.moultsToAdult.${sex}.value.typical`,
      value: typical,
      low: typical,
      high: typical,
    },
    share(
      'oneFewerShare',
      oneFewerShare,
      sdOf((moults) => moults < typical),
    ),
    share(
      'oneMoreShare',
      oneMoreShare,
      sdOf((moults) => moults > typical),
    ),
  ]
}

function spreads({ development }: OwnFit): OwnValue[] {
  const { instarsSeen, noiseLogSd, animalLogSd, threshold } = development
  if (instarsSeen === 0) return []
  const base = { count: instarsSeen, of: 'moult' as const }
  const siblings = Math.hypot(noiseLogSd, animalLogSd)
  const logSd = 1 / Math.sqrt(2 * Math.max(1, instarsSeen))
  const values = [spread({ ...base, path: 'growth.siblingLogSd.value' }, siblings, logSd)]
  if (!threshold.isLearned) return values
  const { lowerC, sdC } = threshold
  const margin = Z_OF_90 * sdC
  return [
    ...values,
    {
      ...base,
      path: 'growth.lowerThresholdC.value',
      value: round(lowerC, 1),
      low: round(lowerC - margin, 1),
      high: round(lowerC + margin, 1),
    },
  ]
}

function survivals(learned: LearnedSurvival | undefined): OwnValue[] {
  if (!learned) return []
  return SURVIVAL_SLOTS.filter((slot) => isSeenEnough(learned[slot])).map((slot) => {
    const { lived, died, share, sd } = learned[slot]
    return {
      path: `growth.survival.value.${slot}`,
      value: round(share, 3),
      low: round(Math.max(0, share - Z_OF_90 * sd), 3),
      high: round(Math.min(1, share + Z_OF_90 * sd), 3),
      count: Math.round(lived + died),
      of: 'animal',
    }
  })
}

/**
 * What siblings lost here says of the risks of the profile: all of them by one factor, which counts against the
 * profile in force, so that taking one over is counted once. Nothing while no clutch of the species is settled.
 */
export function listOwnRisks(profile: CareProfile, losses: LossScale | undefined): OwnValue[] {
  if (!losses || losses.clutches === 0) return []
  const { scale, clutches, lost } = losses
  const logSd = 1 / Math.sqrt(LOSS_SHAPE + lost / LOSS_SPREAD)
  return profile.separation.riskPerDay.value.map((risk, index) => {
    const at = (z: number) => round(Math.min(1, risk * scale * Math.exp(z * logSd)), 4)
    const path = `separation.riskPerDay.value.${index}`
    return { path, value: at(0), low: at(-Z_OF_90), high: at(Z_OF_90), count: clutches, of: 'clutch' }
  })
}

function hatching(
  profile: CareProfile,
  { fertility, nymphs, incubation, hatchesSeen }: LearnedHatch,
): OwnValue[] {
  if (hatchesSeen === 0) return []
  const hatches = { count: hatchesSeen, of: 'hatch' as const }
  const { alpha, beta } = fertility
  const share = alpha / (alpha + beta)
  const sd = Math.sqrt((share * (1 - share)) / (alpha + beta + 1))
  const { minC, maxC } = profile.hatch.incubation.value
  const perDay = rate((minC + maxC) / 2, thresholdsOf(profile))
  const daysAt = (z: number) => Math.exp(incubation.logMean + z * incubation.logSd) / Math.max(0.05, perDay)
  const end = (name: string, days: number) =>
    spread({ ...hatches, path: `hatch.incubation.value.${name}` }, days, incubation.logMeanSd)
  return [
    {
      path: 'hatch.fertileShare.value',
      value: round(share, 3),
      low: round(Math.max(0, share - Z_OF_90 * sd), 3),
      high: round(Math.min(1, share + Z_OF_90 * sd), 3),
      count: hatchesSeen,
      of: 'egg case',
    },
    spread(
      { ...hatches, path: 'hatch.nymphs.value.typical' },
      Math.round(nymphs.mean),
      0.5 / Math.sqrt(Math.max(1, nymphs.shape)),
    ),
    end('minDays', daysAt(-Z_OF_90)),
    end('maxDays', daysAt(Z_OF_90)),
  ]
}

type Base = Pick<OwnValue, 'path' | 'count' | 'of'>

/** Around a positive value that may be off by a factor; figures as fine as its size makes sense of. */
function spread(base: Base, value: number, logSd: number): OwnValue {
  const digits = value < 2 ? 3 : value < 20 && base.path !== 'hatch.nymphs.value.typical' ? 1 : 0
  const at = (z: number) => round(value * Math.exp(z * logSd), digits)
  return { ...base, value: at(0), low: at(-Z_OF_90), high: at(Z_OF_90) }
}

function round(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits
}
