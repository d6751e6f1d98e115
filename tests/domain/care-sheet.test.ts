import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { sheetCalendar } from '@/lib/domain/care-sheet/calendar'
import { feedingAdvice, feedingNowAndNext } from '@/lib/domain/care-sheet/feeding'
import { hasRoom, housingNeed, housingNowAndNext, lastDayToMoveUp } from '@/lib/domain/care-sheet/housing'
import { sexCertainty } from '@/lib/domain/care-sheet/sexing'
import { forecastMoultSeries, forecastNextMoult } from '@/lib/domain/development/forecast'
import { profileOf, steady } from '../cases/profile'

const creobroter = profileOf('creobroter-spp')
const hierodula = profileOf('hierodula-spp')

describe('the eight weeks of a care sheet', () => {
  const today = '2026-11-24'
  const moults = [{ p10: '2026-11-28', p90: '2026-12-04', chance: 1 }]

  it('mark the moult window, and feeding days outside it', () => {
    const days = sheetCalendar({ today, moults, everyDays: 2, lastFedOn: '2026-11-23' })
    expect(days).toHaveLength(56)
    expect(days.slice(0, 4).map(({ kind }) => kind)).toEqual(['none', 'feed', 'none', 'feed'])
    expect(days.filter(({ kind }) => kind === 'moult').map(({ on }) => on)).toEqual(
      Array.from({ length: 7 }, (_, index) => addDays('2026-11-28', index)),
    )
    expect(days[11]).toEqual({ on: '2026-12-05', kind: 'feed' })
  })

  it('never tell to feed inside a window or while the skin is soft', () => {
    const days = sheetCalendar({ today, moults, everyDays: 1, softUntil: '2026-11-26' })
    expect(days.slice(0, 3).map(({ kind }) => kind)).toEqual(['none', 'none', 'feed'])
    const first = days.findIndex(({ kind }) => kind === 'moult')
    expect(days[first]!.on).toBe('2026-11-28')
  })

  it('leave out a moult most animals do not make', () => {
    const days = sheetCalendar({ today, moults: [{ ...moults[0]!, chance: 0.3 }], everyDays: 2 })
    expect(days.some(({ kind }) => kind === 'moult')).toBe(false)
  })

  it('show later windows wider, straight from the forecast', () => {
    const series = forecastMoultSeries(
      { profile: hierodula, sex: 'female', moults: 3, instarStartedOn: today, history: steady(27), today },
      addDays(today, 55),
    )
    expect(series.length).toBeGreaterThanOrEqual(2)
    const days = sheetCalendar({ today, moults: series, everyDays: 2 })
    expect(days.filter(({ on }) => on < series[0]!.p10).every(({ kind }) => kind !== 'moult')).toBe(true)
  })
})

describe('food on a care sheet', () => {
  it('is small fruit flies for a Creobroter hatchling, which cannot hold hydei', () => {
    const { offerings, everyDays } = feedingAdvice(creobroter, { sex: 'unsexed', moults: 0 })
    expect(offerings).toEqual([{ item: 'melanogaster', min: 1, max: 2 }])
    expect(everyDays).toBe(1)
  })

  it('climbs the ladder with body length', () => {
    const first = (moults: number) => feedingAdvice(hierodula, { sex: 'female', moults }).offerings[0]!.item
    expect([0, 1, 2, 4, 6, 7].map(first)).toEqual([
      'melanogaster',
      'melanogaster',
      'hydei',
      'house-fly',
      'bottle-fly',
      'bottle-fly',
    ])
  })

  it('gives a Deroplatys hatchling of 15 mm more than a Creobroter hatchling of 4 mm', () => {
    expect(
      feedingAdvice(profileOf('deroplatys-desiccata'), { sex: 'unsexed', moults: 0 }).offerings[0]!.item,
    ).toBe('hydei')
  })

  it('offers no crickets to those that should have flies and moths', () => {
    for (const slug of [
      'hymenopus-coronatus',
      'blepharopsis-mendica',
      'gongylus-gongylodes',
      'idolomantis-diabolica',
    ]) {
      for (let moults = 0; moults <= 8; moults += 1) {
        for (const isAdult of [false, true]) {
          const items = feedingAdvice(profileOf(slug), { sex: 'female', moults, isAdult }).offerings.map(
            ({ item }) => item,
          )
          expect(items.length).toBeGreaterThan(0)
          expect(items.some((item) => item.endsWith('cricket'))).toBe(false)
        }
      }
    }
  })

  it('is about a third for a large male, twice a week for adults, and has no next for them', () => {
    const female = feedingAdvice(hierodula, { sex: 'female', moults: 8, isAdult: true })
    const male = feedingAdvice(hierodula, { sex: 'male', moults: 7, isAdult: true })
    expect(male.offerings[0]!.max / female.offerings[0]!.max).toBeCloseTo(1 / 3, 0)
    expect(female.everyDays).toBe(3)
    expect(feedingNowAndNext(hierodula, { sex: 'female', moults: 8, isAdult: true }).next).toBeNull()
  })

  it('always has something to offer, in whole animals, at every stage of every species', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFAULT_PROFILES.map(({ slug }) => slug)),
        fc.nat(9),
        fc.boolean(),
        (slug, moults, isAdult) => {
          const { offerings, longestPreyMm, lengthMm } = feedingAdvice(profileOf(slug), {
            sex: 'male',
            moults,
            isAdult,
          })
          expect(
            offerings.every(
              ({ min, max }) => Number.isInteger(min) && Number.isInteger(max) && min >= 1 && max >= min,
            ),
          ).toBe(true)
          expect(offerings.length).toBeGreaterThan(0)
          expect(longestPreyMm).toBeCloseTo(lengthMm / 2, 9)
        },
      ),
    )
  })
})

describe('housing on a care sheet', () => {
  it('is three body lengths high and two wide, and grows with the next moult', () => {
    const { now, next } = housingNowAndNext(hierodula, { sex: 'female', moults: 2 })
    expect(now.heightMm).toBe(40)
    expect(now.widthMm).toBe(25)
    expect(now.heightMm).toBeGreaterThanOrEqual(3 * now.lengthMm)
    expect(next!.heightMm).toBeGreaterThan(now.heightMm)
    expect(housingNowAndNext(hierodula, { sex: 'female', moults: 8, isAdult: true }).next).toBeNull()
  })

  it('has more hang space before the final moult', () => {
    const usual = housingNeed(hierodula, { sex: 'female', moults: 7 })
    const final = housingNeed(hierodula, { sex: 'female', moults: 7, isNextFinal: true })
    expect(final.hangSpaceMm / usual.hangSpaceMm).toBeCloseTo(1.25, 1)
  })

  it('is judged against a container and moved before the window', () => {
    const need = housingNeed(hierodula, { sex: 'female', moults: 2 })
    expect(hasRoom(need, { heightMm: 40, widthMm: 25 })).toBe(true)
    expect(hasRoom(need, { heightMm: 39, widthMm: 80 })).toBe(false)
    const forecast = forecastNextMoult({
      profile: hierodula,
      sex: 'female',
      moults: 2,
      instarStartedOn: '2026-11-01',
      history: steady(26),
      today: '2026-11-03',
    })
    expect(forecast.status === 'forecast' && lastDayToMoveUp(forecast) === addDays(forecast.p10, -1)).toBe(
      true,
    )
  })
})

describe('how sure a sex is', () => {
  it('is unsexed below the fourth instar, probable at the fourth and fifth, certain from the sixth or adult', () => {
    const certainty = (moults: number) => sexCertainty(creobroter, { sex: 'male', moults })
    expect([0, 2, 3, 4, 5].map(certainty)).toEqual(['unsexed', 'unsexed', 'probable', 'probable', 'certain'])
    expect(sexCertainty(creobroter, { sex: 'female', moults: 2, isAdult: true })).toBe('certain')
    expect(sexCertainty(profileOf('deroplatys-lobata'), { sex: 'female', moults: 3 })).toBe('certain')
    expect(sexCertainty(creobroter, { sex: 'unsexed', moults: 6 })).toBe('unsexed')
  })
})
