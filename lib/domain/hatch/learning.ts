import type { CareProfile } from '../care-profile/profile'
import type { Lognormal } from '../probability/lognormal'
import { Z_OF_90 } from '../probability/normal'
import { normalIntervalChance } from '../probability/normal-interval'
import { incubation } from './egg-clock'
import type { HatchInput } from './forecast'

/** What became of one egg case; effective days are counted as `countsFrom` and the egg's own history say. */
export type HatchRecord = {
  eggCaseId: string
  femaleId: string | null
  /** 1 for her first egg case. */
  order: number | null
  /** Effective days between which it hatched; `until` null while it has not. */
  hatchedAfter: { from: number; until: number | null }
  /** Did it hatch? Null while that is open. */
  hasHatched: boolean | null
  nymphs: number | null
}

/** Fertility as a beta, nymphs of a hatch as a gamma mixed into a Poisson. */
export type LearnedHatch = {
  incubation: Lognormal & { logMeanSd: number }
  fertility: { alpha: number; beta: number }
  nymphs: { shape: number; mean: number }
  /** Of each female with egg cases on record. */
  females: Record<
    string,
    { fertility: { alpha: number; beta: number }; nymphs: { shape: number; mean: number } }
  >
  hatchesSeen: number
}

/** Egg cases that the profile is worth, and those that a species is worth for one of its females. */
const PROFILE_CASES = 6
const SPECIES_CASES = 4
/** ln of an incubation differs between workspaces and the profile by about as much as an instar does. */
const INCUBATION_PRIOR_SD = 0.2
/** Coefficient of variation of hatch counts between egg cases; a default. */
const COUNT_VARIATION = 0.5
/** Each later egg case of a female is expected to be so much smaller; a default. */
const LATER_CASE_FACTOR = 0.92
const NEWTON_ROUNDS = 25

/** Incubation, fertility and counts of a species in one workspace, and of each female. Independent of row order. */
export function learnHatch(profile: CareProfile, records: readonly HatchRecord[]): LearnedHatch {
  const sorted = [...records].sort((a, b) => (a.eggCaseId < b.eggCaseId ? -1 : 1))
  const share = profile.hatch.fertileShare.value
  const prior = { alpha: share * PROFILE_CASES, beta: (1 - share) * PROFILE_CASES }
  const fertility = withOutcomes(prior, sorted)
  const nymphs = withCounts({ shape: PROFILE_CASES, mean: profile.hatch.nymphs.value.typical }, sorted)
  return {
    incubation: learnIncubation(profile, sorted),
    fertility,
    nymphs,
    females: femalesOf(sorted, { fertility, nymphs }),
    hatchesSeen: sorted.filter(({ hasHatched }) => hasHatched).length,
  }
}

/** Chance that an egg case is fertile at all, and mean and variance of its nymphs if it is, for one female and order. */
export function expectedHatch(
  learned: LearnedHatch,
  of: { femaleId: string | null; order: number | null },
): { fertileShare: number; nymphs: { mean: number; variance: number } } {
  const known = (of.femaleId === null ? undefined : learned.females[of.femaleId]) ?? learned
  const { alpha, beta } = known.fertility
  const mean = known.nymphs.mean * orderFactor(of.order)
  const unknownMean = 1 / Math.max(1, known.nymphs.shape)
  const variance = mean + mean * mean * COUNT_VARIATION ** 2 * (1 + unknownMean)
  return { fertileShare: alpha / (alpha + beta), nymphs: { mean, variance } }
}

/** What a forecast takes over of it; nothing of what no record has said anything about. */
export function learnedHatchInput(
  learned: LearnedHatch,
  of: { femaleId: string | null },
): Pick<HatchInput, 'incubation' | 'fertileShare' | 'nymphs' | 'hatchesSeen'> {
  const { incubation, hatchesSeen } = learned
  const { fertileShare, nymphs } = expectedHatch(learned, { ...of, order: null })
  if (hatchesSeen === 0) return { incubation, fertileShare, hatchesSeen }
  const spread = Z_OF_90 * Math.sqrt(nymphs.variance)
  const range = {
    low: Math.max(1, Math.round(nymphs.mean - spread)),
    typical: Math.round(nymphs.mean),
    high: Math.round(nymphs.mean + spread),
  }
  return { incubation, fertileShare, nymphs: range, hatchesSeen }
}

/** Later egg cases are smaller. */
function orderFactor(order: number | null): number {
  return order === null ? 1 : LATER_CASE_FACTOR ** Math.max(0, order - 1)
}

function withOutcomes(
  prior: { alpha: number; beta: number },
  records: readonly HatchRecord[],
): { alpha: number; beta: number } {
  const hatched = records.filter(({ hasHatched }) => hasHatched === true).length
  const failed = records.filter(({ hasHatched }) => hasHatched === false).length
  return { alpha: prior.alpha + hatched, beta: prior.beta + failed }
}

/**
 * Mean of first egg cases: a gamma prior worth `shape` egg cases, each count weighed by the spread of an egg
 * case (Poisson around a gamma), so that one rich hatch does not decide.
 */
function withCounts(
  prior: { shape: number; mean: number },
  records: readonly HatchRecord[],
): { shape: number; mean: number } {
  const counted = records.filter(({ nymphs, hasHatched }) => hasHatched && nymphs !== null && nymphs > 0)
  const sum = counted.reduce((total, { nymphs, order }) => total + nymphs! / orderFactor(order), 0)
  const shape = prior.shape + counted.length
  return { shape, mean: (prior.shape * prior.mean + sum) / shape }
}

function femalesOf(
  records: readonly HatchRecord[],
  species: Pick<LearnedHatch, 'fertility' | 'nymphs'>,
): LearnedHatch['females'] {
  const { alpha, beta } = species.fertility
  const scale = SPECIES_CASES / (alpha + beta)
  const byFemale = new Map<string, HatchRecord[]>()
  for (const record of records)
    if (record.femaleId !== null)
      byFemale.set(record.femaleId, [...(byFemale.get(record.femaleId) ?? []), record])
  return Object.fromEntries(
    [...byFemale].map(([femaleId, own]) => [
      femaleId,
      {
        fertility: withOutcomes({ alpha: alpha * scale, beta: beta * scale }, own),
        nymphs: withCounts({ shape: SPECIES_CASES, mean: species.nymphs.mean }, own),
      },
    ]),
  )
}

/**
 * MAP of the mean of ln(incubation) from hatches (an interval each) and from fertile egg cases that are still
 * waiting (longer than so far; a wait that may be an infertile one counts by the chance that it is not).
 */
function learnIncubation(profile: CareProfile, records: readonly HatchRecord[]): LearnedHatch['incubation'] {
  const prior = incubation(profile)
  const logSd = Math.max(0.03, prior.logSd)
  const fertile = profile.hatch.fertileShare.value
  let logMean = prior.logMean
  let curvature = 1 / INCUBATION_PRIOR_SD ** 2
  for (let round = 0; round < NEWTON_ROUNDS; round += 1) {
    let slope = -(logMean - prior.logMean) / INCUBATION_PRIOR_SD ** 2
    curvature = 1 / INCUBATION_PRIOR_SD ** 2
    for (const { hatchedAfter, hasHatched } of records) {
      if (hasHatched === false || (hasHatched === null && hatchedAfter.from <= 0)) continue
      const limits = {
        low: hatchedAfter.from > 0 ? Math.log(hatchedAfter.from) : Number.NEGATIVE_INFINITY,
        high:
          hatchedAfter.until === null
            ? Number.POSITIVE_INFINITY
            : Math.log(Math.max(0.1, hatchedAfter.until)),
      }
      const found = normalIntervalChance(limits, logMean, logSd)
      const waiting = fertile * found.chance
      const belief = hasHatched ? 1 : waiting / (waiting + 1 - fertile)
      slope += belief * found.slope
      curvature += belief * found.curvature
    }
    logMean += slope / curvature
    if (Math.abs(slope / curvature) < 1e-7) break
  }
  return { logMean, logSd, logMeanSd: 1 / Math.sqrt(curvature) }
}
