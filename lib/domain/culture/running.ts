import { daysBetween, maxDate, type PlainDate } from '../calendar/date'
import { normalQuantile } from '../probability/normal'

/** What has been taken out of a culture on a day. */
export type Harvest = { on: PlainDate; count: number }

export type RunningCulture = {
  startedOn: PlainDate
  harvested?: readonly Harvest[]
  /** A crash that somebody has seen. */
  hasCrashed?: boolean
}

export type CultureLaw = {
  /** Share of the yield per day after the start. */
  curve: readonly number[]
  mean: number
  cv: number
  crashChance: number
  /** What a crash gives, as a share of the mean. */
  crashShare: number
  /** How far cultures differ in their delay, as a share of it. */
  delayCv: number
}

/** One way a running culture may go on: flies of its whole life, and days it is late. */
export type CultureFuture = { total: number; lateDays: number; weight: number }

/** Quantiles of the prior far into both tails, so that a poor culture is not taken for a middling one. */
const LEVELS = Array.from({ length: 17 }, (_, level) => (level - 8) * 0.4)
const LATE_Z = [-1.5, -0.5, 0.5, 1.5]
/** Two harvests of the same flies differ by this share, by hands and by the day. */
const HARVEST_CV = 0.1

/**
 * The futures of a culture, weighted by its harvests so far: yields by quantiles of their prior with crashes
 * beside them, delays around the line's. Without harvests the prior stands. Weights sum to 1. O(1).
 */
export function cultureFutures(culture: RunningCulture, law: CultureLaw): CultureFuture[] {
  const onset = onsetDay(law.curve)
  const futures = LATE_Z.flatMap((z) => {
    const lateDays = z * law.delayCv * onset
    return priorTotals(law, culture.hasCrashed ?? false).map(({ total, weight }) => ({
      total,
      lateDays,
      weight: weight / LATE_Z.length,
    }))
  })
  const harvested = culture.harvested ?? []
  if (harvested.length === 0) return futures
  const taken = harvested.reduce((sum, { count }) => sum + Math.max(0, count), 0)
  const last = harvested.reduce((latest, { on }) => maxDate(latest, on), culture.startedOn)
  const age = daysBetween(culture.startedOn, last) + 1
  const added = addUp(law.curve)
  const logs = futures.map(({ total, lateDays, weight }) => {
    const expected = total * shareBefore(added, age - lateDays)
    // Flies emerge one by one, and a harvest is never complete.
    const variance = 1 + expected + (HARVEST_CV * expected) ** 2
    return Math.log(weight) - (taken - expected) ** 2 / (2 * variance) - Math.log(variance) / 2
  })
  const highest = Math.max(...logs)
  const weights = logs.map((log) => Math.exp(log - highest))
  const sum = weights.reduce((total, weight) => total + weight, 0)
  return futures.map((future, index) => ({ ...future, weight: weights[index]! / sum }))
}

/** Prior of the whole yield, lognormal without crashes. */
export function yieldQuantile(law: Pick<CultureLaw, 'mean' | 'cv'>, chance: number): number {
  if (law.mean <= 0) return 0
  const logVariance = Math.log1p(law.cv ** 2)
  return law.mean * Math.exp(Math.sqrt(logVariance) * normalQuantile(chance) - logVariance / 2)
}

function priorTotals(law: CultureLaw, hasCrashed: boolean): { total: number; weight: number }[] {
  const crash = { total: law.mean * law.crashShare, weight: hasCrashed ? 1 : law.crashChance }
  const logSd = Math.sqrt(Math.log1p(law.cv ** 2))
  const densities = LEVELS.map((z) => Math.exp((-z * z) / 2))
  const all = densities.reduce((sum, density) => sum + density, 0)
  const levels = LEVELS.map((z, level) => ({
    total: law.mean * Math.exp(logSd * z - (logSd * logSd) / 2),
    weight: ((1 - crash.weight) * densities[level]!) / all,
  }))
  return [crash, ...levels].filter(({ weight }) => weight > 0)
}

/** First day on which a fiftieth of the flies has come. */
export function onsetDay(curve: readonly number[]): number {
  let sum = 0
  for (const [day, share] of curve.entries()) {
    sum += share
    if (sum >= 0.02) return day
  }
  return 0
}

/** The curve added up: share that has emerged by the end of each day. */
export function addUp(curve: readonly number[]): Float64Array {
  let sum = 0
  return Float64Array.from(curve, (share) => {
    sum += share
    return sum
  })
}

/** Share that has emerged before an age in days, whole or not; of a curve added up. O(1). */
export function shareBefore(added: Float64Array, age: number): number {
  if (age <= 0) return 0
  const day = Math.floor(age)
  if (day >= added.length) return added[added.length - 1] ?? 0
  const before = day > 0 ? added[day - 1]! : 0
  return before + (added[day]! - before) * (age - day)
}

/**
 * Of a culture's whole yield the share that came out from one age in days to another and is still alive in the jar
 * then. O(days).
 */
export function aliveShare(
  added: Float64Array,
  span: { since: number; age: number; lateDays: number; survival: number },
): number {
  let alive = 0
  for (let day = span.since; day < span.age; day += 1) {
    const came = shareBefore(added, day + 1 - span.lateDays) - shareBefore(added, day - span.lateDays)
    alive = (alive + came) * span.survival
  }
  return alive
}

/** The future picked by a chance in [0, 1), in the order of the list. */
export function pickFuture(futures: readonly CultureFuture[], chance: number): CultureFuture {
  let left = chance
  for (const future of futures) {
    left -= future.weight
    if (left < 0) return future
  }
  return futures.at(-1) ?? { total: 0, lateDays: 0, weight: 1 }
}

/** Expected flies of each day from `from` on, its own first. */
export function expectedHarvests(
  culture: RunningCulture,
  law: CultureLaw,
  span: { from: PlainDate; days: number },
): number[] {
  const byDelay = new Map<number, number>()
  for (const { total, lateDays, weight } of cultureFutures(culture, law))
    byDelay.set(lateDays, (byDelay.get(lateDays) ?? 0) + weight * total)
  const age = daysBetween(culture.startedOn, span.from)
  const added = addUp(law.curve)
  return Array.from({ length: span.days }, (_, day) => {
    let mean = 0
    for (const [lateDays, total] of byDelay)
      mean +=
        total * (shareBefore(added, age + day + 1 - lateDays) - shareBefore(added, age + day - lateDays))
    return mean
  })
}
