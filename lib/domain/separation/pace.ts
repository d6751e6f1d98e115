import type { PlainDate } from '../calendar/date'
import { normalBelow, normalQuantile } from '../probability/normal'
import type { ClutchSighting, MoultedShare } from './sighting'
import { type ClutchStages, sharePast } from './stage-shares'

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
      const chance = chanceOfWord(sighting, Math.exp(logFactor), input)
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

function chanceOfWord(sighting: ClutchSighting, factor: number, input: PaceInput): number {
  const share = sharePast(input.stages, sighting.number, input.ageOn(sighting.on) * factor)
  const score = normalQuantile(Math.min(1 - 1e-9, Math.max(1e-9, share)))
  const [low, high] = limitsOf(sighting.moulted, input.together)
  const chance = normalBelow((high - score) / WORD_SD) - normalBelow((low - score) / WORD_SD)
  return (1 - WRONG_SHARE) * Math.max(0, chance) + WRONG_SHARE / WORDS
}

/** The normal scores of the shares a word may stand for; "first" is at least one animal. */
function limitsOf(moulted: MoultedShare, together: number): [low: number, high: number] {
  const one = normalQuantile(Math.min(0.08, Math.max(1e-3, 0.7 / Math.max(1, together))))
  const [few, half] = [normalQuantile(0.1), 0]
  switch (moulted) {
    case 'none':
      return [Number.NEGATIVE_INFINITY, one]
    case 'first':
      return [one, few]
    case 'some':
      return [few, half]
    case 'most':
      return [half, -one]
    case 'all':
      return [-one, Number.POSITIVE_INFINITY]
  }
}
