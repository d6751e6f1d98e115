import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { forecastAdult, forecastNextMoult } from '@/lib/domain/development/forecast'
import { learnInstarCounts } from '@/lib/domain/development/instar-count'
import { withRefusal } from '@/lib/domain/development/refusal'
import { hasWingBuds, refusedFoodOn, type SeenSign } from '@/lib/domain/individual/growth-sign'
import { type GrowthRecord, recordAsOf } from '@/lib/domain/individual/record'

const record = (signs: SeenSign[], lastOn = '2026-03-01'): GrowthRecord => ({
  hatchedOn: '2026-01-01',
  baselineOn: '2026-01-01',
  baselineMoults: 0,
  baselineLastMoultOn: null,
  adultSinceOn: null,
  moults: [{ number: 1, on: lastOn, seenFrom: null, outcome: 'good', final: false }],
  signs,
})

describe('signs of a moult to come', () => {
  it('count in the instar in which they were seen, from their day on', () => {
    const buds = record([{ kind: 'wing_buds', on: '2026-03-10' }])
    expect(hasWingBuds(buds)).toBe(true)
    expect(hasWingBuds(recordAsOf(buds, '2026-03-09'))).toBe(false)
    expect(hasWingBuds(record([{ kind: 'wing_buds', on: '2026-02-20' }]))).toBe(false)
  })
  it('are no sign while it is soft, nor once it has eaten again', () => {
    const refused = (on: string) => record([{ kind: 'refuses_food', on }])
    expect(refusedFoodOn(refused('2026-03-02'), '2026-03-20')).toBeNull()
    expect(refusedFoodOn(refused('2026-03-12'), '2026-03-20')).toBe('2026-03-12')
    expect(refusedFoodOn({ ...refused('2026-03-12'), lastFedOn: '2026-03-14' }, '2026-03-20')).toBeNull()
    expect(refusedFoodOn({ ...refused('2026-03-12'), lastFedOn: '2026-03-14' }, '2026-03-13')).toBe(
      '2026-03-12',
    )
    const fed = { ...record([]), lastRefusedOn: '2026-03-15', lastFedOn: '2026-03-10' }
    expect(refusedFoodOn(fed, '2026-03-20')).toBe('2026-03-15')
  })
})

describe('a refused meal', () => {
  const even = (days: number) => Math.max(0, Math.min(1, days / 20))
  it('turns chances by Bayes, as counting shows', () => {
    // 20 days equally likely, fasts of 2, 4, 7 and 12 days: refusals per day of the moult, counted out.
    const chance = withRefusal(even, 0)
    const weight = (day: number) =>
      [2, 4, 7, 12].reduce((sum, fast) => sum + (day < fast ? 0.75 : 0.1) / 4, 0)
    const all = Array.from({ length: 2000 }, (_, index) => (index + 0.5) / 100)
    const total = all.reduce((sum, day) => sum + weight(day), 0)
    for (const until of [1, 3, 6, 10, 15]) {
      const within = all.filter((day) => day < until).reduce((sum, day) => sum + weight(day), 0)
      expect(chance(until)).toBeCloseTo(within / total, 6)
    }
  })
  it('only ever draws the moult nearer, never loses any chance, and wears off', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 40, noNaN: true }), fc.nat(30), (days, since) => {
        const chance = withRefusal(even, since)
        expect(chance(days)).toBeGreaterThanOrEqual(even(days) - 1e-12)
        expect(chance(25)).toBeCloseTo(1, 12)
      }),
    )
    expect(withRefusal(even, 12)(7)).toBeCloseTo(even(7), 12)
    expect(withRefusal(even, null)).toBe(even)
  })
})

describe('forecasts', () => {
  const profile = DEFAULT_PROFILES.find(({ slug }) => slug === 'creobroter-spp')!.profile!
  const nymph = {
    profile,
    sex: 'unsexed' as const,
    moults: 5,
    instarStartedOn: '2026-03-01',
    history: [{ from: '2026-01-01', until: null, dayC: 26 }],
    today: '2026-03-12',
  }
  it('say the sign in their reason, and move the window', () => {
    const usual = forecastNextMoult(nymph)
    const refusing = forecastNextMoult({ ...nymph, refusedFoodOn: '2026-03-11' })
    if (usual.status !== 'forecast' || refusing.status !== 'forecast') throw new Error('dates')
    expect(refusing.p50 < usual.p50).toBe(true)
    expect(refusing.reason).toMatch(/It refused food on 11 Mar/)
    const budding = forecastNextMoult({ ...nymph, hasWingBuds: true, refusedFoodOn: '2026-03-11' })
    const adult = forecastAdult({ ...nymph, hasWingBuds: true, refusedFoodOn: '2026-03-11' })
    if (budding.status !== 'forecast' || adult.status !== 'forecast') throw new Error('dates')
    expect([adult.p10, adult.p50, adult.p90]).toEqual([budding.p10, budding.p50, budding.p90])
  })
  it('learn from wing buds that the moult to come is the last, as from an adult', () => {
    const seen = (number: number, of: { isAdult: boolean; hasWingBuds?: boolean }) => ({
      animalId: 'a',
      clutchId: null,
      sex: 'female' as const,
      starts: [{ moults: number, earliestOn: '2026-03-01', latestOn: '2026-03-01' }],
      runningOn: null,
      history: nymph.history,
      ...of,
    })
    const budding = learnInstarCounts(profile, [seen(5, { isAdult: false, hasWingBuds: true })])
    const grown = learnInstarCounts(profile, [seen(6, { isAdult: true })])
    expect(budding.female.shares).toEqual(grown.female.shares)
  })
})
