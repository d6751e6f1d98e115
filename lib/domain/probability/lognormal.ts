import { normalBelow } from './normal'

/** A lognormal quantity given by the mean and standard deviation of its logarithm. */
export type Lognormal = { logMean: number; logSd: number }

/** P(quantity ≤ x); a quantity without spread jumps at its median. */
export function lognormalBelow(quantity: Lognormal, x: number): number {
  if (x <= 0) return 0
  const distance = Math.log(x) - quantity.logMean
  if (quantity.logSd <= 0) return distance >= 0 ? 1 : 0
  return normalBelow(distance / quantity.logSd)
}

export function lognormalMedian(quantity: Lognormal): number {
  return Math.exp(quantity.logMean)
}

/**
 * The lognormal with the mean and variance of a sum of lognormals that go together (Fenton–Wilkinson).
 * `logMeans[i]` and `logCovariance(i, j)` describe the logarithms of the terms. O(n²). An empty sum is 0.
 */
export function sumOfLognormals(
  logMeans: number[],
  logCovariance: (i: number, j: number) => number,
): Lognormal {
  const means = logMeans.map((logMean, index) => Math.exp(logMean + logCovariance(index, index) / 2))
  const mean = means.reduce((total, term) => total + term, 0)
  if (mean === 0) return { logMean: Number.NEGATIVE_INFINITY, logSd: 0 }
  let variance = 0
  means.forEach((first, i) => {
    means.forEach((second, j) => {
      variance += first * second * Math.expm1(logCovariance(i, j))
    })
  })
  const logVariance = Math.log1p(Math.max(0, variance) / (mean * mean))
  return { logMean: Math.log(mean) - logVariance / 2, logSd: Math.sqrt(logVariance) }
}
