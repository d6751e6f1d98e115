import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { uniformInt } from 'pure-rand/distribution/uniformInt'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator'
import { hashText } from '../label/scramble'
import { normalQuantile } from '../probability/normal'

/**
 * A stream of chance that begins with a seed: same seed and same questions, same answers, on any machine.
 * Used by the demo, simulations and tests; never for secrets. A stream is used up as it is read; `fork`
 * begins one of its own by name, so that a part can ask more questions without disturbing the others.
 */
export type SeededStream = {
  /** In [0, 1). */
  uniform(): number
  /** Whole number between the two, both included. */
  integer(min: number, max: number): number
  /** True with the given probability. */
  chance(probability: number): boolean
  pick<T>(list: readonly T[]): T
  shuffle<T>(list: readonly T[]): T[]
  normal(mean: number, sd: number): number
  lognormal(logMean: number, logSd: number): number
  poisson(mean: number): number
  /** Mean shape × scale. */
  gamma(shape: number, scale: number): number
  beta(alpha: number, beta: number): number
  fork(name: string): SeededStream
}

export function seededStream(seed: number | string): SeededStream {
  const words = String(seed)
  const generator = xoroshiro128plus(hashText(words))
  const uniform = () => uniformFloat64(generator)
  const gamma = (shape: number, scale: number) => gammaVariate(uniform, shape) * scale
  return {
    uniform,
    integer: (min, max) => uniformInt(generator, min, max),
    chance: (probability) => uniform() < probability,
    pick: (list) => pickFrom(generator, list),
    shuffle: (list) => shuffled(generator, list),
    normal: (mean, sd) => mean + sd * standardNormal(uniform),
    lognormal: (logMean, logSd) => Math.exp(logMean + logSd * standardNormal(uniform)),
    poisson: (mean) => poissonVariate(uniform, mean),
    gamma,
    beta: (alpha, beta) => {
      const first = gamma(alpha, 1)
      return first / (first + gamma(beta, 1))
    },
    fork: (name) => seededStream(`${words}/${name}`),
  }
}

function pickFrom<T>(generator: RandomGenerator, list: readonly T[]): T {
  if (list.length === 0) throw new RangeError('nothing to pick from')
  return list[uniformInt(generator, 0, list.length - 1)]!
}

/** Fisher–Yates on a copy. */
function shuffled<T>(generator: RandomGenerator, list: readonly T[]): T[] {
  const copy = [...list]
  for (let last = copy.length - 1; last > 0; last -= 1) {
    const other = uniformInt(generator, 0, last)
    const kept = copy[last]!
    copy[last] = copy[other]!
    copy[other] = kept
  }
  return copy
}

/** By inversion; the half step keeps 0 out. */
function standardNormal(uniform: () => number): number {
  return normalQuantile(uniform() + 2 ** -54)
}

/** Products of uniforms, in slices of a mean of 20 so that nothing underflows. O(mean). */
function poissonVariate(uniform: () => number, mean: number): number {
  let count = 0
  for (let left = mean; left > 0; left -= 20) {
    const limit = Math.exp(-Math.min(left, 20))
    for (let product = uniform(); product > limit; product *= uniform()) count += 1
  }
  return count
}

/** Marsaglia & Tsang 2000, with their boost for shapes below 1. */
function gammaVariate(uniform: () => number, shape: number): number {
  if (shape < 1) return gammaVariate(uniform, shape + 1) * (1 - uniform()) ** (1 / shape)
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const z = standardNormal(uniform)
    const cube = (1 + c * z) ** 3
    if (cube > 0 && Math.log(1 - uniform()) < (z * z) / 2 + d - d * cube + d * Math.log(cube)) return d * cube
  }
}
