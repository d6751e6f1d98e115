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
const OUTER_SHARE = 0.2

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
  const enough = Math.max(FEWEST_INSTARS, OUTER_SHARE * means.reduce((sum, { instars }) => sum + instars, 0))
  const cool = meanOfFirst(means, enough)
  const warm = meanOfFirst(means.toReversed(), enough)
  const upperC = profile.growth.upperThresholdC.value
  return cool !== null && warm !== null && Math.min(warm, upperC) - cool >= DISTINCT_C
}

/** Mean temperature of the first records of a sorted list that make up enough instars. */
function meanOfFirst(means: readonly { meanC: number; instars: number }[], enough: number): number | null {
  let instars = 0
  let sum = 0
  for (const one of means) {
    instars += one.instars
    sum += one.instars * one.meanC
    if (instars >= enough) return sum / instars
  }
  return null
}

/**
 * Posterior mode and spread of the threshold: parabolas through log posteriors at three points, a wide one
 * to find the place and a narrow one there for the spread.
 */
export function findThreshold(
  prior: { lowerC: number; sdC: number },
  logEvidence: (lowerC: number) => number,
): { lowerC: number; sdC: number } {
  const logPosterior = (lowerC: number) =>
    logEvidence(lowerC) - ((lowerC - prior.lowerC) / prior.sdC) ** 2 / 2
  const wide = topOfParabola(prior.lowerC, prior.sdC, logPosterior)
  const narrow = topOfParabola(wide.at, prior.sdC / 2, logPosterior)
  return { lowerC: narrow.at, sdC: Math.min(prior.sdC, narrow.sd) }
}

/** Never further from the middle than twice the distance of the outer points. */
function topOfParabola(
  middle: number,
  distance: number,
  value: (at: number) => number,
): { at: number; sd: number } {
  const [before, here, after] = [value(middle - distance), value(middle), value(middle + distance)]
  const bend = (2 * here - before - after) / distance ** 2
  if (!(bend > 1e-9)) return { at: after > before ? middle + distance : middle - distance, sd: distance * 2 }
  const move = (after - before) / (2 * distance * bend)
  return { at: middle + Math.min(2 * distance, Math.max(-2 * distance, move)), sd: 1 / Math.sqrt(bend) }
}
