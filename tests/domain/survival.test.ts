import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { KeptAnimal } from '@/lib/domain/growth/evidence'
import { listOwnRisks } from '@/lib/domain/growth/own-value'
import { learnSurvival, SURVIVAL_SLOTS, withLearnedSurvival } from '@/lib/domain/growth/survival'
import { profileOf } from '../cases/profile'

const profile = profileOf('creobroter-spp')
const TODAY = '2026-06-01'

type Life = { moults?: string[]; died?: string; final?: boolean; sex?: KeptAnimal['sex'] }

function animal({ moults = [], died, final = false, sex = 'female' }: Life): KeptAnimal {
  return {
    id: 'a',
    clutchId: 'c',
    sex,
    hatchedOn: '2026-01-05',
    baselineOn: '2026-01-05',
    baselineMoults: 0,
    baselineLastMoultOn: null,
    adultSinceOn: final ? (moults.at(-1) ?? null) : null,
    moults: moults.map((on, index) => ({
      number: index + 1,
      on,
      seenFrom: null,
      outcome: 'good',
      final: final && index === moults.length - 1,
      isConfirmed: false,
    })),
    stays: [],
    lastSeenOn: null,
    leftOn: died ?? null,
    hasDied: died !== undefined,
    diedMoulting: false,
  }
}
const many = (count: number, life: Life) => Array.from({ length: count }, () => animal(life))
const learn = (animals: KeptAnimal[], asOf = TODAY) => learnSurvival(profile, animals, asOf)

describe('survival of an instar', () => {
  it('is that of the profile while nothing has been seen, and near to the own share once much has', () => {
    const nothing = learn([])
    for (const slot of SURVIVAL_SLOTS)
      expect(nothing[slot].share).toBeCloseTo(profile.growth.survival.value[slot], 12)
    expect(withLearnedSurvival(profile, nothing)).toBe(profile)
    const { first } = learn([...many(300, { moults: ['2026-01-18'] }), ...many(300, { died: '2026-01-12' })])
    expect([first.lived, first.died]).toEqual([300, 300])
    expect(first.share).toBeCloseTo(0.5, 1)
  })
  it('counts who is still in it, was sold in it, or came in the middle of it by half', () => {
    const running = learn(many(10, {}))
    expect([running.first.lived, running.first.died]).toEqual([5, 0])
    const sold = learn(many(10, {}).map((one) => ({ ...one, leftOn: '2026-01-10', hasDied: false })))
    expect(sold.first).toEqual(running.first)
    const bought = learn([
      {
        ...animal({}),
        hatchedOn: null,
        baselineMoults: 2,
        baselineLastMoultOn: '2026-01-01',
        moults: [
          { number: 3, on: '2026-01-15', seenFrom: null, outcome: 'good', final: false, isConfirmed: false },
        ],
      },
    ])
    expect([bought.third.lived, bought.later.lived]).toEqual([0.5, 0.5])
  })
  it('tells the final moult from a later instar, also of those who did not get through it', () => {
    const usual = profile.growth.moultsToAdult.female.value.typical
    const days = Array.from({ length: usual }, (_, index) => `2026-03-${String(index + 1).padStart(2, '0')}`)
    const grown = learn([animal({ moults: days, final: true })])
    expect([grown.finalMoult.lived, grown.later.lived]).toEqual([1, usual - 4])
    const stuck = learn([animal({ moults: days.slice(0, -1), died: '2026-04-01' })])
    expect([stuck.finalMoult.died, stuck.later.died]).toEqual([1, 0])
  })
  it('as of an earlier day knows of no later death', () => {
    const dead = many(40, { moults: ['2026-01-18'], died: '2026-02-01' })
    expect(learn(dead, '2026-01-31').second.died).toBe(0)
    expect(learn(dead).second.died).toBe(40)
  })
  it('goes into what is counted ahead only where enough was seen', () => {
    const few = learn(many(15, { died: '2026-01-12' }))
    expect(withLearnedSurvival(profile, few)).toBe(profile)
    const learned = withLearnedSurvival(profile, learn(many(60, { died: '2026-01-12' })))
    expect(learned.growth.survival.value.first).toBeLessThan(0.4)
    expect(learned.growth.survival.value.third).toBe(profile.growth.survival.value.third)
    expect(learned.growth.survival.source.kind).toBe('own')
  })
  it('is always a share, whatever happened', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.nat(60), (lived, died) => {
        const found = learn([
          ...many(lived, { moults: ['2026-01-18', '2026-01-30'] }),
          ...many(died, { died: '2026-01-12' }),
        ])
        for (const slot of SURVIVAL_SLOTS) {
          expect(found[slot].share).toBeGreaterThan(0)
          expect(found[slot].share).toBeLessThan(1)
        }
      }),
      { numRuns: 25 },
    )
  })
})

describe('what siblings lost', () => {
  it('scales every risk of the profile, with a range that narrows, and is silent without a settled clutch', () => {
    const risks = profile.separation.riskPerDay.value
    const of = (clutches: number, lost: number) =>
      listOwnRisks(profile, { scale: 0.5, clutches, clutchesOfAll: clutches, lost, expected: lost * 2 })
    expect(listOwnRisks(profile, undefined)).toEqual([])
    expect(of(0, 0)).toEqual([])
    const found = of(4, 40)
    expect(found.map(({ path }) => path)).toEqual(risks.map((_, at) => `separation.riskPerDay.value.${at}`))
    found.forEach(({ value, low, high, count, of: what }, index) => {
      expect(value).toBeCloseTo(risks[index]! / 2, 3)
      expect(low < value && value < high).toBe(true)
      expect([count, what]).toEqual([4, 'clutch'])
    })
    const [narrow] = of(20, 400)
    expect(narrow!.high - narrow!.low).toBeLessThan(found[0]!.high - found[0]!.low)
  })
})
