import { dayNumber, daysBetween } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import type { TemperatureHistory } from './clock'
import type { DevelopmentRecord } from './record'
import { meanTemperatureC } from './temperature-spread'

/**
 * The lower threshold moves the lengths of *all* instars when every animal stands equally warm, so it can be
 * told from slow growth only where animals of one species stand clearly apart in temperature.
 */
const DISTINCT_C = 3
const FEWEST_INSTARS = 8
const GRID_STEPS_SD = [-2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2]

/** Are there enough completed instars both in cool and in warm places? */
export function hasDistinctZones(records: readonly DevelopmentRecord[], profile: CareProfile): boolean {
  const means: { meanC: number; instars: number }[] = []
  const seen = new Map<TemperatureHistory, Map<string, number>>()
  for (const record of records) {
    const first = record.starts[0]?.latestOn
    const last = record.starts.at(-1)?.latestOn
    if (!first || !last || daysBetween(first, last) < 1) continue
    const known = seen.get(record.history) ?? new Map<string, number>()
    seen.set(record.history, known)
    const span = `${first} ${last}`
    const meanC = known.get(span) ?? meanTemperatureC(record.history, dayNumber(first), dayNumber(last))
    known.set(span, meanC)
    means.push({ meanC, instars: (record.starts.length - 1) * (record.count ?? 1) })
  }
  if (means.length === 0) return false
  means.sort((a, b) => a.meanC - b.meanC)
  const cool = meanOfFirst(means)
  const warm = meanOfFirst(means.toReversed())
  const upperC = profile.growth.upperThresholdC.value
  return cool !== null && warm !== null && Math.min(warm, upperC) - cool >= DISTINCT_C
}

/** Mean temperature of the first records of a sorted list that make up enough instars. */
function meanOfFirst(means: readonly { meanC: number; instars: number }[]): number | null {
  let instars = 0
  let sum = 0
  for (const one of means) {
    instars += one.instars
    sum += one.instars * one.meanC
    if (instars >= FEWEST_INSTARS) return sum / instars
  }
  return null
}

/** Thresholds to try, two prior standard deviations to either side, always below the reference. */
export function thresholdGrid(prior: { lowerC: number; sdC: number }, profile: CareProfile): number[] {
  const most = profile.growth.referenceC.value - 4
  return [...new Set(GRID_STEPS_SD.map((step) => Math.min(most, prior.lowerC + step * prior.sdC)))]
}

/** Posterior mean and standard deviation over the grid, its points being equally far apart. */
export function thresholdFromFits(
  fits: readonly { lowerC: number; logEvidence: number }[],
  prior: { lowerC: number; sdC: number },
): { lowerC: number; sdC: number } {
  const logs = fits.map(
    ({ lowerC, logEvidence }) => logEvidence - ((lowerC - prior.lowerC) / prior.sdC) ** 2 / 2,
  )
  const most = Math.max(...logs)
  const weights = logs.map((log) => Math.exp(log - most))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const lowerC = fits.reduce((sum, fit, index) => sum + fit.lowerC * weights[index]!, 0) / total
  const variance =
    fits.reduce((sum, fit, index) => sum + (fit.lowerC - lowerC) ** 2 * weights[index]!, 0) / total
  return { lowerC, sdC: Math.sqrt(variance + (prior.sdC / 4) ** 2 / 3) }
}
