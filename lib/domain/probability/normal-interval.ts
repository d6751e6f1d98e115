import { normalBelow } from './normal'

/**
 * Chance that a normal quantity of the given mean and standard deviation falls between two limits (either
 * may be infinite), with the slope of its logarithm along the mean and the (positive) curvature against it.
 * Exact formulas; precise in both tails. O(1).
 */
export type IntervalChance = { chance: number; slope: number; curvature: number }

const SMALLEST_CHANCE = 1e-300
const SQRT_TWO_PI = Math.sqrt(2 * Math.PI)

export function normalIntervalChance(
  limits: { low: number; high: number },
  mean: number,
  sd: number,
): IntervalChance {
  const low = (limits.low - mean) / sd
  const high = (limits.high - mean) / sd
  if (high === Number.NEGATIVE_INFINITY) return { chance: SMALLEST_CHANCE, slope: 0, curvature: 0 }
  // Taken in the tail that both limits share, so that small differences keep their digits.
  const chance = low > 0 ? normalBelow(-low) - normalBelow(-high) : normalBelow(high) - normalBelow(low)
  if (!(chance > SMALLEST_CHANCE)) return farAway(low, high, sd)
  const atLow = density(low)
  const atHigh = density(high)
  const slope = (atLow - atHigh) / chance
  const bend =
    ((Number.isFinite(low) ? low * atLow : 0) - (Number.isFinite(high) ? high * atHigh : 0)) / chance
  return { chance, slope: slope / sd, curvature: Math.max(0, slope * slope - bend) / (sd * sd) }
}

/** Beyond 37 standard deviations the chance underflows; slope and curvature go on as those of the nearer limit. */
function farAway(low: number, high: number, sd: number): IntervalChance {
  const nearest = low > 0 ? low : high
  return { chance: SMALLEST_CHANCE, slope: nearest / sd, curvature: 1 / (sd * sd) }
}

function density(z: number): number {
  return Number.isFinite(z) ? Math.exp(-0.5 * z * z) / SQRT_TWO_PI : 0
}
