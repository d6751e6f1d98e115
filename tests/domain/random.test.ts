import { describe, expect, it } from 'vitest'
import { lognormalBelow, lognormalMedian, sumOfLognormals } from '@/lib/domain/probability/lognormal'
import { normalAbove, normalBelow, normalQuantile } from '@/lib/domain/probability/normal'
import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'

const DRAWS = 40_000

function moments(draw: (stream: SeededStream) => number): { mean: number; variance: number } {
  const stream = seededStream('moments')
  const values = Array.from({ length: DRAWS }, () => draw(stream))
  const mean = values.reduce((sum, value) => sum + value, 0) / DRAWS
  return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / DRAWS }
}

describe('a seeded stream', () => {
  it('gives the same demo on every machine: same seed, same draws', () => {
    const draw = (seed: number | string) => {
      const stream = seededStream(seed)
      return [
        stream.uniform(),
        stream.integer(1, 6),
        stream.normal(0, 1),
        stream.gamma(2, 1),
        stream.poisson(4),
        stream.beta(2, 3),
      ]
    }
    expect(draw(7)).toEqual(draw(7))
    expect(draw(7)).not.toEqual(draw(8))
  })

  it('begins a named stream that the questions before it do not disturb', () => {
    const asked = seededStream('season')
    asked.uniform()
    expect(asked.fork('clutches').uniform()).toBe(seededStream('season').fork('clutches').uniform())
    expect(asked.fork('clutches').uniform()).not.toBe(asked.fork('cultures').uniform())
  })

  const cases: [string, (stream: SeededStream) => number, number, number][] = [
    ['uniform', (stream) => stream.uniform(), 0.5, 1 / 12],
    ['normal', (stream) => stream.normal(5, 2), 5, 4],
    ['lognormal', (stream) => stream.lognormal(0, 0.5), Math.exp(0.125), Math.expm1(0.25) * Math.exp(0.25)],
    ['poisson of a small mean', (stream) => stream.poisson(3), 3, 3],
    ['poisson of a large mean', (stream) => stream.poisson(90), 90, 90],
    ['gamma', (stream) => stream.gamma(3, 2), 6, 12],
    ['gamma of a shape below one', (stream) => stream.gamma(0.5, 2), 1, 2],
    ['beta', (stream) => stream.beta(2, 6), 0.25, 12 / 576],
    ['a die', (stream) => stream.integer(1, 6), 3.5, 35 / 12],
  ]
  for (const [name, draw, mean, variance] of cases) {
    it(`has the mean and variance of ${name}`, () => {
      const found = moments(draw)
      expect(Math.abs(found.mean - mean)).toBeLessThan(5 * Math.sqrt(variance / DRAWS))
      expect(Math.abs(found.variance / variance - 1)).toBeLessThan(0.08)
    })
  }

  it('shuffles without losing anyone and picks only what is there', () => {
    const stream = seededStream(1)
    const list = [1, 2, 3, 4, 5, 6, 7, 8]
    const mixed = stream.shuffle(list)
    expect(mixed).not.toEqual(list)
    expect([...mixed].sort()).toEqual(list)
    expect(list).toContain(stream.pick(list))
    expect(() => stream.pick([])).toThrow(RangeError)
    expect(stream.chance(0) || !stream.chance(1)).toBe(false)
  })
})

describe('the normal distribution', () => {
  it('has its published values, far out too', () => {
    expect(normalBelow(1.959963984540054)).toBeCloseTo(0.975, 12)
    expect(normalAbove(10) / 7.61985302416e-24).toBeCloseTo(1, 9)
    expect(normalQuantile(0.9)).toBeCloseTo(1.2815515655446004, 12)
  })
})

describe('sums of instars', () => {
  it('keep mean and variance of the terms, and one term is itself', () => {
    const one = sumOfLognormals([Math.log(12)], () => 0.04)
    expect(lognormalMedian(one)).toBeCloseTo(12, 9)
    expect(one.logSd).toBeCloseTo(0.2, 9)
    const together = sumOfLognormals([0, 0], () => 0.09)
    expect(together.logSd).toBeCloseTo(0.3, 9)
    expect(lognormalMedian(together)).toBeCloseTo(2, 9)
    const apart = sumOfLognormals([0, 0], (i, j) => (i === j ? 0.09 : 0))
    expect(apart.logSd).toBeLessThan(0.3 / Math.SQRT2 + 0.01)
    expect(
      lognormalBelow(
        sumOfLognormals([], () => 0),
        0.001,
      ),
    ).toBe(1)
  })
})
