import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, weekdayOf } from '@/lib/domain/calendar/date'
import { checkDay } from '@/lib/domain/dispatch/day'
import { firstDispatchDays } from '@/lib/domain/dispatch/days'
import { fitnessOn } from '@/lib/domain/dispatch/fitness'
import { placeSafest } from '@/lib/domain/dispatch/matching'
import type { DispatchQuestion } from '@/lib/domain/dispatch/order'
import { animal, line, question, TODAY } from '../cases/traveller'

describe('properties that hold for every order', () => {
  const state = fc.record({
    days: fc.integer({ min: 0, max: 45 }),
    moults: fc.integer({ min: 1, max: 5 }),
    quarantine: fc.option(fc.integer({ min: 1, max: 20 }), { nil: null }),
    sex: fc.constantFrom('female' as const, 'male' as const),
  })
  const made = (states: readonly (typeof state extends fc.Arbitrary<infer T> ? T : never)[]) =>
    states.map(({ days, moults, quarantine, sex }, index) =>
      animal(`N${index}`, days, {
        moults,
        sex,
        quarantineUntil: quarantine === null ? null : addDays(TODAY, quarantine),
      }),
    )
  const safeDays = (asked: DispatchQuestion) =>
    Array.from({ length: 14 }, (_, ahead) => addDays(TODAY, ahead)).filter(
      (on) => checkDay(on, asked).holds.length === 0,
    )

  it('an animal more never adds a day', () => {
    fc.assert(
      fc.property(fc.array(state, { minLength: 2, maxLength: 4 }), (states) => {
        const animals = made(states)
        const chosen = animals.map(({ id }) => id)
        const all = safeDays(question({ animals, lines: [line(1, { count: chosen.length, chosen })] }))
        const fewer = chosen.slice(0, -1)
        const some = safeDays(question({ animals, lines: [line(1, { count: fewer.length, chosen: fewer })] }))
        expect(some).toEqual(expect.arrayContaining(all))
      }),
      { numRuns: 40 },
    )
  })

  it('a description more never adds a day, and an animal more in the room never takes one', () => {
    fc.assert(
      fc.property(fc.array(state, { minLength: 2, maxLength: 5 }), (states) => {
        const animals = made(states)
        const wide = { fromMoults: 2, untilMoults: 4, takes: 'nymph' } as const
        const lines = [line(1, { stage: wide }), line(2, { sex: 'female', stage: wide })]
        const both = safeDays(question({ animals, lines }))
        expect(safeDays(question({ animals, lines: lines.slice(0, 1) }))).toEqual(
          expect.arrayContaining(both),
        )
        const fewer = safeDays(question({ animals: animals.slice(0, -1), lines }))
        expect(both).toEqual(expect.arrayContaining(fewer))
      }),
      { numRuns: 40 },
    )
  })

  it('leaving out what cannot decide any more decides the same', () => {
    fc.assert(
      fc.property(state, fc.integer({ min: 0, max: 40 }), (one, ahead) => {
        const [asked] = made([one])
        const packOn = addDays(TODAY, ahead)
        const journey = { packOn, arriveOn: addDays(packOn, 1) }
        const stage = { fromMoults: 2, untilMoults: null, takes: 'either' } as const
        const exact = fitnessOn(asked!, { journey, today: TODAY, stage })
        const quick = fitnessOn(asked!, { journey, today: TODAY, stage, enough: 0.9 })
        expect(quick.chance).toBeLessThanOrEqual(exact.chance + 1e-9)
        expect(quick.chance >= 0.9).toBe(exact.chance >= 0.9)
      }),
      { numRuns: 120 },
    )
  })

  it('days offered are sent on, open, and every animal on them is fit with nine in ten', () => {
    fc.assert(
      fc.property(fc.array(state, { minLength: 1, maxLength: 4 }), (states) => {
        const animals = made(states)
        const chosen = animals.map(({ id }) => id)
        const { days } = firstDispatchDays(
          question({ animals, lines: [line(1, { count: chosen.length, chosen })] }),
        )
        for (const { packOn, going } of days) {
          expect(weekdayOf(packOn)).toBeLessThanOrEqual(3)
          expect(going).toHaveLength(animals.length)
          for (const { chance } of going) expect(chance).toBeGreaterThanOrEqual(0.9)
        }
      }),
      { numRuns: 40 },
    )
  })

  it('places are filled as brute force would: as many as can be, and the safest', () => {
    const option = fc.record({
      place: fc.integer({ min: 0, max: 3 }),
      animal: fc.constantFrom('A', 'B', 'C', 'D', 'E'),
    })
    const chances = fc.tuple(...Array.from({ length: 5 }, () => fc.double({ min: 0.9, max: 1, noNaN: true })))
    fc.assert(
      fc.property(fc.array(option, { maxLength: 12 }), chances, (pairs, weights) => {
        const options = pairs.map((pair) => ({ ...pair, chance: weights['ABCDE'.indexOf(pair.animal)]! }))
        const found = placeSafest(4, options)
        expect(new Set(found.map(({ animal: id }) => id)).size).toBe(found.length)
        expect(new Set(found.map(({ place }) => place)).size).toBe(found.length)
        const best = bruteForce(options, new Set(), 0)
        expect(found.length).toBe(best.count)
        expect(found.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(best.chance, 9)
      }),
    )
  })
})

type BruteOption = { place: number; animal: string; chance: number }

function bruteForce(
  options: BruteOption[],
  used: Set<string>,
  place: number,
): { count: number; chance: number } {
  if (place === 4) return { count: 0, chance: 0 }
  let best = bruteForce(options, used, place + 1)
  for (const option of options) {
    if (option.place !== place || used.has(option.animal)) continue
    const rest = bruteForce(options, new Set([...used, option.animal]), place + 1)
    const found = { count: rest.count + 1, chance: rest.chance + option.chance }
    if (found.count > best.count || (found.count === best.count && found.chance > best.chance)) best = found
  }
  return best
}
