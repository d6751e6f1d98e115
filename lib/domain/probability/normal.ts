import normal from '@stdlib/stats-base-dists-normal'

/** The standard normal distribution; both tails keep their relative precision far out. */
export function normalBelow(z: number): number {
  return normal.cdf(z, 0, 1)
}

export function normalAbove(z: number): number {
  return normal.cdf(-z, 0, 1)
}

/** The z with the given probability below it; ±Infinity at 0 and 1. */
export function normalQuantile(probability: number): number {
  return normal.quantile(probability, 0, 1)
}

/** The z with the given probability above it, precise where that is tiny. */
export function normalUpperQuantile(probability: number): number {
  return -normal.quantile(probability, 0, 1)
}

/** z of the 90 % quantile: a range read as 10–90 % spans twice this many standard deviations. */
export const Z_OF_90 = 1.2815515655446004

export type WeightedNode = { z: number; weight: number }

/** Five-point Gauss–Hermite rule for the standard normal: exact for polynomials up to degree nine. */
export const NORMAL_NODES: readonly WeightedNode[] = [
  { z: -2.85697001387281, weight: 0.011257411327720689 },
  { z: -1.3556261799742659, weight: 0.22207592200561263 },
  { z: 0, weight: 0.5333333333333333 },
  { z: 1.3556261799742659, weight: 0.22207592200561263 },
  { z: 2.85697001387281, weight: 0.011257411327720689 },
]
