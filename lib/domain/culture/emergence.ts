import gamma from '@stdlib/stats-base-dists-gamma'
import type { CurveValues, PupaeSupply } from '../prey/line'
import { lognormalBelow } from '../probability/lognormal'
import { Z_OF_90 } from '../probability/normal'

/**
 * The share of a culture's whole yield that emerges on each day after the start, day 0 first: laying (gamma)
 * convolved with development (lognormal), both in effective days.
 *
 * `temperatureC` is the mean of the room; `delayFactor` the learned deviation of the whole timing. Shares sum
 * to 1 over an endless row of days. O(days² × steps²).
 */
export function emergenceCurve(
  curve: CurveValues,
  at: { temperatureC: number; days: number; delayFactor?: number },
): number[] {
  const rate = developmentRate(curve, at.temperatureC) / (at.delayFactor ?? 1)
  if (!(rate > 0)) return Array.from({ length: at.days }, () => 0)
  const steps = at.days * STEPS_PER_DAY
  const step = rate / STEPS_PER_DAY
  const laid = differences(steps, (index) =>
    gamma.cdf(index * step, curve.layingShape, 1 / curve.layingScaleDays),
  )
  const development = { logMean: Math.log(curve.developmentDays), logSd: curve.developmentLogSd }
  const developed = differences(steps, (index) => lognormalBelow(development, index * step))
  const first = developed.findIndex((share) => share > 1e-12)
  const shares = new Float64Array(at.days)
  for (let from = 0; from < steps; from += 1) {
    if (laid[from]! < 1e-12) continue
    for (let length = Math.max(0, first); from + length < steps; length += 1)
      shares[Math.floor((from + length) / STEPS_PER_DAY)]! += laid[from]! * developed[length]!
  }
  return [...shares]
}

const STEPS_PER_DAY = 4

/** Effective days per day; 0 below the threshold and where the line is harmed nothing is promised. */
export function developmentRate(
  curve: Pick<CurveValues, 'referenceC' | 'thresholdC'>,
  temperatureC: number,
): number {
  return Math.max(0, (temperatureC - curve.thresholdC) / (curve.referenceC - curve.thresholdC))
}

/** Shares of bought pupae that emerge on each day from warming on, day 0 first. */
export function pupaeCurve(supply: PupaeSupply, at: { temperatureC: number; days: number }): number[] {
  const { minDays, maxDays, ...temperature } = supply.emergence.value
  const rate = developmentRate(temperature, at.temperatureC)
  if (!(rate > 0)) return Array.from({ length: at.days }, () => 0)
  const [low, high] = [Math.log(Math.max(0.5, minDays)), Math.log(Math.max(maxDays, minDays * 1.05, 0.6))]
  const development = { logMean: (low + high) / 2, logSd: (high - low) / (2 * Z_OF_90) }
  return [...differences(at.days, (day) => lognormalBelow(development, day * rate))]
}

/** Of the pupae that come out of the fridge after so many days, the share still good. */
export function fridgeShare(supply: PupaeSupply, days: number): number {
  const { min, max } = supply.fridgeDays.value
  if (days <= min) return 1
  return days >= max ? 0 : 1 - (days - min) / (max - min)
}

/** Cumulative share at the beginning of each whole day turned into shares per day. */
function differences(count: number, below: (index: number) => number): Float64Array {
  let before = below(0)
  return Float64Array.from({ length: count }, (_, index) => {
    const now = below(index + 1)
    const share = now - before
    before = now
    return share
  })
}
