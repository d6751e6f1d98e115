import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import {
  adultMoults,
  colonyCapacity,
  isTooWide,
  largestLengthMm,
  likelySpan,
  spanOf,
  widenSpan,
  writeLot,
} from '@/lib/domain/colony/company'

const ghost = DEFAULT_PROFILES.find(({ slug }) => slug === 'phyllocrania-paradoxa')?.profile
if (!ghost) throw new Error('a species whose profile allows colonies')

describe('room for a colony', () => {
  it('is one animal in each cube of three body lengths', () => {
    // 20 mm long: a cube of 60 mm, 0.216 l. Twelve litres hold 55 of them.
    expect(colonyCapacity(12_000, 20)).toBe(55)
    expect(colonyCapacity(200, 20)).toBe(0)
    expect(() => colonyCapacity(12_000, 0)).toThrow(RangeError)
  })

  it('never grows while the animals do', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 50_000 }),
        fc.double({ min: 3, max: 100, noNaN: true }),
        (ml, mm) => {
          expect(colonyCapacity(ml, mm + 1)).toBeLessThanOrEqual(colonyCapacity(ml, mm))
        },
      ),
    )
  })

  it('is judged by the larger sex of the largest stage', () => {
    expect(largestLengthMm(ghost, { least: 3, most: 9 })).toBe(50)
    expect(largestLengthMm(ghost, { least: 0, most: 0 })).toBe(7)
  })
})

describe('the stages inside', () => {
  const line = (moults: number, animals: number) =>
    ({ sex: 'unsexed', moults, isAdult: false, animals }) as const

  it('go from the smallest to the largest of whom somebody is there', () => {
    expect(spanOf([line(2, 4), line(3, 1), line(7, 0)])).toEqual({ least: 2, most: 3 })
    expect(spanOf([line(2, 0)])).toBeNull()
    expect(widenSpan({ least: 2, most: 3 }, { least: 4, most: 4 })).toEqual({ least: 2, most: 4 })
    expect(widenSpan(null, { least: 4, most: 4 })).toEqual({ least: 4, most: 4 })
  })

  it('may be one instar apart and no more', () => {
    expect(isTooWide({ least: 2, most: 3 })).toBe(false)
    expect(isTooWide({ least: 2, most: 4 })).toBe(true)
  })

  it('are expected from the shares, leaving out the rare ones', () => {
    expect(likelySpan([0.02, 0.58, 0.4, 0])).toEqual({ least: 1, most: 2 })
    expect(likelySpan([1])).toEqual({ least: 0, most: 0 })
    expect(likelySpan([])).toEqual({ least: 0, most: 0 })
  })

  it('of adults are reckoned by the usual number of moults of their sex', () => {
    expect([adultMoults(ghost, 'male'), adultMoults(ghost, 'female'), adultMoults(ghost, 'unsexed')]).toEqual(
      [6, 7, 7],
    )
  })

  it('are written as a lot', () => {
    expect(
      writeLot([
        { sex: 'male', animals: 2 },
        { sex: 'female', animals: 3 },
        { sex: 'male', animals: 1 },
      ]),
    ).toBe('3.3.0')
  })
})
