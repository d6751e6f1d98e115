import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import {
  dateAfterEffectiveDays,
  developmentClock,
  effectiveDaysAt,
  rate,
  thresholdsOf,
} from '@/lib/domain/development/clock'
import { forecastAdult, forecastNextMoult, type MoultForecast } from '@/lib/domain/development/forecast'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import { learnDevelopment } from '@/lib/domain/development/learning'
import { parametersOf } from '@/lib/domain/development/posterior'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { normalQuantile } from '@/lib/domain/probability/normal'
import { profileOf, steady } from '../cases/profile'
import {
  ATTENUATA_FIRST,
  HOUSE_FLY_PUPA,
  MELANOGASTER,
  TRICOLOR_TOTAL,
  VIRIDIS_INSTARS,
} from '../cases/published-series'

const HATCHED_ON = '2026-01-01'

function dated(forecast: MoultForecast) {
  if (forecast.status !== 'forecast') throw new Error(`no dates: ${forecast.status}`)
  return forecast
}

/** A normal sample without luck: the middles of equally likely parts. */
function evenDraws(count: number): number[] {
  return Array.from({ length: count }, (_, index) => normalQuantile((index + 0.5) / count))
}

/** A record of one length, seen from its first to its last day, with nothing between. */
function lengthRecord(index: number, moults: number, days: number): DevelopmentRecord {
  const on = addDays(HATCHED_ON, Math.round(days))
  return {
    animalId: `animal ${index}`,
    clutchId: `clutch ${index % 4}`,
    sex: index % 2 === 0 ? 'female' : 'male',
    starts: [
      { moults: 0, earliestOn: HATCHED_ON, latestOn: HATCHED_ON },
      { moults, earliestOn: on, latestOn: on },
    ],
    runningOn: null,
    isAdult: false,
    history: steady(25),
  }
}

describe('published instars of mantises', () => {
  it('of Sphodromantis viridis are those of its profile, in days at 25 °C and in degree-days', () => {
    const { slug, temperatureC, shortestDays, longestDays, ...published } = VIRIDIS_INSTARS
    const profile = profileOf(slug)
    const thresholds = thresholdsOf(profile)
    for (const sex of ['male', 'female'] as const) {
      const totalMoults = profile.growth.moultsToAdult[sex].value.typical
      const lengths = Array.from({ length: totalMoults }, (_, moults) =>
        medianInstarDays(profile, { sex, totalMoults }, moults),
      )
      const meanDays = lengths.reduce((sum, days) => sum + days, 0) / totalMoults
      expect(meanDays / rate(temperatureC, thresholds)).toBeGreaterThanOrEqual(shortestDays)
      expect(meanDays / rate(temperatureC, thresholds)).toBeLessThanOrEqual(longestDays)
      const degreeDays = meanDays * (thresholds.referenceC - thresholds.lowerC)
      expect(degreeDays).toBeGreaterThanOrEqual(published.fewestDegreeDays)
      expect(degreeDays).toBeLessThanOrEqual(published.mostDegreeDays)
    }
  })

  it('of Tenodera attenuata begin inside the window that the profile alone gives a hatchling', () => {
    const { p10, p50, p90 } = dated(
      forecastNextMoult({
        profile: profileOf('tenodera-sinensis'),
        sex: 'unsexed',
        moults: 0,
        instarStartedOn: HATCHED_ON,
        history: steady(25),
        today: HATCHED_ON,
      }),
    )
    const { meanDays, sdDays } = ATTENUATA_FIRST
    expect(Math.abs(daysBetween(HATCHED_ON, p50) - meanDays)).toBeLessThan(2 * sdDays)
    expect(daysBetween(HATCHED_ON, p10)).toBeLessThan(meanDays - sdDays)
    expect(daysBetween(HATCHED_ON, p90)).toBeGreaterThan(meanDays + sdDays)
  })

  it('of Tenodera attenuata are found again, mean and spread, by learning from a generation of them', () => {
    const profile = profileOf('tenodera-sinensis')
    const { meanDays, sdDays } = ATTENUATA_FIRST
    const records = evenDraws(60).map((z, index) => lengthRecord(index, 1, meanDays + sdDays * z))
    const learned = learnDevelopment(profile, records)
    const parameters = parametersOf(learned, { clutchId: 'clutch 0' })
    const window = dated(
      forecastNextMoult({
        profile,
        parameters,
        sex: 'unsexed',
        moults: 0,
        instarStartedOn: HATCHED_ON,
        history: steady(25),
        today: HATCHED_ON,
        futureTemperatureSdC: 0,
      }),
    )
    expect(Math.abs(daysBetween(HATCHED_ON, window.p50) - meanDays)).toBeLessThanOrEqual(1)
    const width = daysBetween(window.p10, window.p90)
    expect(width).toBeGreaterThan(1.5 * sdDays)
    expect(width).toBeLessThan(4.5 * sdDays)
  })
})

describe('the published total of Harpagomantis tricolor', () => {
  const { instars, meanDays, sdDays } = TRICOLOR_TOTAL
  const like = profileOf('creobroter-spp')
  const count = {
    ...like.growth.moultsToAdult.male,
    value: { typical: instars, oneFewerShare: 0, oneMoreShare: 0 },
  }
  // A keeper's first guess for a small flower mantis of five instars.
  const guess = { ...like.growth.daysToAdult.male, value: 100 }
  const profile: CareProfile = {
    ...like,
    growth: {
      ...like.growth,
      moultsToAdult: { male: count, female: count },
      daysToAdult: { male: guess, female: guess },
    },
  }
  const hatchling = {
    profile,
    sex: 'unsexed' as const,
    moults: 0,
    instarStartedOn: HATCHED_ON,
    history: steady(25),
    today: HATCHED_ON,
    futureTemperatureSdC: 0,
  }

  it('lies inside what a guess from a like species allows', () => {
    const { p10, p90 } = dated(forecastAdult(hatchling))
    expect(daysBetween(HATCHED_ON, p10)).toBeLessThan(meanDays)
    expect(daysBetween(HATCHED_ON, p90)).toBeGreaterThan(meanDays)
  })

  it('is learned, with its spread, from hatch and final moult alone: nobody noted the moults between', () => {
    const logSd = Math.sqrt(Math.log1p((sdDays / meanDays) ** 2))
    const logMean = Math.log(meanDays) - logSd ** 2 / 2
    const records = evenDraws(40).map((z, index) => ({
      ...lengthRecord(index, instars, Math.exp(logMean + logSd * z)),
      clutchId: `clutch ${index}`,
      isAdult: true,
    }))
    const parameters = parametersOf(learnDevelopment(profile, records), { clutchId: 'a new one' })
    const { p10, p50, p90 } = dated(forecastAdult({ ...hatchling, parameters }))
    expect(Math.abs(daysBetween(HATCHED_ON, p50) - meanDays)).toBeLessThan(sdDays / 3)
    const published = Math.exp(1.2816 * logSd) - Math.exp(-1.2816 * logSd)
    const width = daysBetween(p10, p90) / meanDays
    expect(width).toBeGreaterThan(0.7 * published)
    expect(width).toBeLessThan(1.3 * published)
  })
})

describe('published flies', () => {
  for (const { what, series } of [
    { what: 'Drosophila melanogaster from egg to adult', series: MELANOGASTER },
    { what: 'house flies from pupa to fly', series: HOUSE_FLY_PUPA },
  ]) {
    it(`develop by the same clock: ${what}`, () => {
      const thresholds = { lowerC: series.lowerC, referenceC: 25, upperC: 30 }
      const atReference = series.degreeDays / (thresholds.referenceC - thresholds.lowerC)
      for (const { temperatureC, days } of series.days) {
        const clock = developmentClock(steady(temperatureC), thresholds)
        const perDay = effectiveDaysAt(clock, 20_001) - effectiveDaysAt(clock, 20_000)
        expect(Math.abs(atReference / perDay - days), `${temperatureC} °C`).toBeLessThan(0.11)
        const on = dateAfterEffectiveDays(clock, HATCHED_ON, atReference)!
        expect(daysBetween(HATCHED_ON, on)).toBe(Math.ceil(atReference / perDay))
      }
    })
  }
})
