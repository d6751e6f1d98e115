import { addDays, type PlainDate } from '../calendar/date'
import { chanceOfRefusal } from '../development/refusal'
import { normalBelow, normalQuantile } from '../probability/normal'
import type { ClutchSighting, MoultedShare } from './sighting'
import { type ClutchStages, sharePast, shareWithWingBuds } from './stage-shares'

/**
 * How much faster than expected a clutch grows, from what was seen of it: ln(factor on its age) on a grid, prior
 * N(0, s²) with the spread of whole clutches at that moult. A word is an interval of the expected share, in normal
 * scores, blurred because siblings hide and nobody counts; one sighting in fifty is taken as wrong. Several sightings
 * are independent given the pace. O(grid × sightings).
 */
export type ClutchPace = {
  factor: number
  /** Standard deviation of ln(factor) that is left. */
  logSd: number
  /** Chance of the least likely sighting before anything was seen: small where the record and the warmth disagree. */
  leastChance: number
}

const GRID_STEPS = 60
const GRID_SDS = 3.5
const WORD_SD = 0.35
const WRONG_SHARE = 0.02
const WORDS = 5

export type PaceInput = {
  stages: ClutchStages
  /** Expected effective days since hatch. */
  ageOn: (on: PlainDate) => number
  together: number
}

export function clutchPace(sightings: readonly ClutchSighting[], input: PaceInput): ClutchPace | null {
  if (sightings.length === 0) return null
  const number = Math.max(...sightings.map((sighting) => sighting.number))
  const priorSd = Math.max(0.05, input.stages.sharedLogSd(number))
  const predictive = sightings.map(() => 0)
  let [total, first, second, prior] = [0, 0, 0, 0]
  for (let step = -GRID_STEPS; step <= GRID_STEPS; step += 1) {
    const z = (step / GRID_STEPS) * GRID_SDS
    const logFactor = z * priorSd
    const weight = Math.exp(-0.5 * z * z)
    let likelihood = weight
    sightings.forEach((sighting, index) => {
      const chance = chanceOfSighting(sighting, Math.exp(logFactor), input)
      predictive[index]! += weight * chance
      likelihood *= chance
    })
    prior += weight
    total += likelihood
    first += likelihood * logFactor
    second += likelihood * logFactor * logFactor
  }
  const mean = first / total
  return {
    factor: Math.exp(mean),
    logSd: Math.sqrt(Math.max(0, second / total - mean * mean)),
    leastChance: Math.min(...predictive.map((sum) => sum / prior)),
  }
}

function chanceOfSighting(sighting: ClutchSighting, factor: number, input: PaceInput): number {
  const ageOn = (on: PlainDate) => input.ageOn(on) * factor
  const chance = chanceWithin(listLimits(sighting, input, ageOn)) * chanceThatRefused(sighting, input, ageOn)
  return (1 - WRONG_SHARE) * chance + WRONG_SHARE / WORDS
}

/** Between which scores a share was seen to lie, and which score it was expected to have. */
type Limits = { low: number; high: number; expected: number }
type AgeOn = (on: PlainDate) => number

/**
 * A word limits the share past its moult. Who hangs sheds by the next day: by then somebody is past it, and today not
 * all are. Wing buds are those of the last nymphal instar.
 */
function listLimits(seen: ClutchSighting, { stages, together }: PaceInput, ageOn: AgeOn): Limits[] {
  const { on, number, moulted, hanging, wingBuds } = seen
  const past = (day: PlainDate) => scoreOf(sharePast(stages, number, ageOn(day)))
  const one = scoreOfOne(together)
  const limits: Limits[] = []
  if (moulted) limits.push({ ...limitsOf(moulted, one), expected: past(on) })
  if (hanging) {
    limits.push({ low: one, high: Number.POSITIVE_INFINITY, expected: past(addDays(on, 1)) })
    limits.push({ low: Number.NEGATIVE_INFINITY, high: -one, expected: past(on) })
  }
  if (wingBuds) {
    const expected = scoreOf(shareWithWingBuds(stages, ageOn(on)))
    limits.push({ low: one, high: Number.POSITIVE_INFINITY, expected })
  }
  return limits
}

/** All of them are blurred alike, by one look. */
function chanceWithin(limits: readonly Limits[]): number {
  const low = Math.max(...limits.map((limit) => limit.low - limit.expected))
  const high = Math.min(...limits.map((limit) => limit.high - limit.expected))
  return Math.max(0, normalBelow(high / WORD_SD) - normalBelow(low / WORD_SD))
}

/** Refused food says as much of siblings as of the one animal that is sure to have been offered it. */
function chanceThatRefused(seen: ClutchSighting, { stages }: PaceInput, ageOn: AgeOn): number {
  if (!seen.refusesFood) return 1
  const number = seen.moulted === 'all' ? seen.number + 1 : seen.number
  const age = ageOn(seen.on)
  const past = sharePast(stages, number, age)
  return chanceOfRefusal((days) => sharePast(stages, number, age + days) - past)
}

function scoreOf(share: number): number {
  return normalQuantile(Math.min(1 - 1e-9, Math.max(1e-9, share)))
}

/** The normal score of one animal among so many. */
function scoreOfOne(together: number): number {
  return normalQuantile(Math.min(0.08, Math.max(1e-3, 0.7 / Math.max(1, together))))
}

/** The normal scores of the shares a word may stand for; "first" is at least one animal. */
function limitsOf(moulted: MoultedShare, one: number): { low: number; high: number } {
  const [few, half] = [normalQuantile(0.1), 0]
  switch (moulted) {
    case 'none':
      return { low: Number.NEGATIVE_INFINITY, high: one }
    case 'first':
      return { low: one, high: few }
    case 'some':
      return { low: few, high: half }
    case 'most':
      return { low: half, high: -one }
    case 'all':
      return { low: -one, high: Number.POSITIVE_INFINITY }
  }
}
