import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { developmentClock, effectiveDays, rate, thresholdsOf } from '@/lib/domain/development/clock'
import {
  type DevelopmentInput,
  forecastAdult,
  forecastMoultSeries,
  forecastNextMoult,
  type MoultForecast,
} from '@/lib/domain/development/forecast'
import { hardeningUntil, isHardening } from '@/lib/domain/development/hardening'
import {
  meanInstarDays,
  medianInstarDays,
  openCourses,
  priorInstarLogSd,
  relativeLength,
} from '@/lib/domain/development/instar-length'
import { logCovariance, priorParameters } from '@/lib/domain/development/parameters'
import { seededStream } from '@/lib/domain/random/seeded'
import { profileOf, steady } from '../cases/profile'
import { INSTAR_DAYS } from '../cases/published-series'

const creobroter = profileOf('creobroter-spp')
const anySex = fc.constantFrom('male' as const, 'female' as const, 'unsexed' as const)
const anySlug = fc.constantFrom(...DEFAULT_PROFILES.map(({ slug }) => slug))

function nymph(changes: Partial<DevelopmentInput> = {}): DevelopmentInput {
  return {
    profile: creobroter,
    sex: 'female',
    moults: 3,
    instarStartedOn: '2026-11-01',
    history: steady(26),
    today: '2026-11-01',
    ...changes,
  }
}

function dated(forecast: MoultForecast) {
  if (forecast.status !== 'forecast') throw new Error(`no dates: ${forecast.status}`)
  return forecast
}

describe('lengths of instars', () => {
  for (const series of INSTAR_DAYS) {
    it(`agree with ${series.what}`, () => {
      const profile = profileOf(series.slug)
      const perDay = rate(series.temperatureC, thresholdsOf(profile))
      const days = (['male', 'female'] as const).map(
        (sex) =>
          medianInstarDays(
            profile,
            { sex, totalMoults: profile.growth.moultsToAdult[sex].value.typical },
            series.moults,
          ) / perDay,
      )
      for (const median of days) {
        expect(median).toBeGreaterThan(series.shortestDays * 0.9)
        expect(median).toBeLessThan(series.longestDays * 1.1)
      }
    })
  }

  it('add up to the days to adult of the profile', () => {
    for (const { profile } of DEFAULT_PROFILES) {
      for (const sex of ['male', 'female'] as const) {
        const totalMoults = profile.growth.moultsToAdult[sex].value.typical
        let sum = 0
        for (let moults = 0; moults < totalMoults; moults += 1)
          sum += medianInstarDays(profile, { sex, totalMoults }, moults)
        expect(sum).toBeCloseTo(profile.growth.daysToAdult[sex].value, 9)
      }
    }
  })

  it('are longest in the last nymphal instar, however many there are', () => {
    const lengths = creobroter.growth.relativeLengths.value
    for (const totalMoults of [4, 5, 6, 7, 8, 9]) {
      const all = Array.from({ length: totalMoults }, (_, moults) =>
        relativeLength(lengths, moults, totalMoults),
      )
      expect(Math.max(...all)).toBe(all.at(-1))
    }
    expect(meanInstarDays(creobroter, 'female')).toBeCloseTo(95 / 7, 9)
  })

  it('spread by 0.15 between siblings and by about 0.33 where nothing is known of the workspace', () => {
    const parameters = priorParameters(creobroter)
    expect(Math.sqrt(parameters.noiseLogSd ** 2 + 0.08 ** 2)).toBeCloseTo(0.15, 9)
    expect(priorInstarLogSd(creobroter, 2)).toBeCloseTo(
      Math.sqrt(0.25 ** 2 + 0.1 ** 2 + 0.12 ** 2 + 0.15 ** 2),
      9,
    )
    expect(logCovariance(parameters, 1, 4)).toBeCloseTo(0.25 ** 2 + 0.12 ** 2 + 0.08 ** 2, 9)
  })

  it('leave open only the courses that are left: an unsexed animal past the male’s last moult is a female', () => {
    const courses = openCourses(creobroter, { sex: 'unsexed', moults: 7 })
    expect(courses.every(({ sex, totalMoults }) => sex === 'female' && totalMoults === 8)).toBe(true)
    expect(
      openCourses(creobroter, { sex: 'female', moults: 5, hasWingBuds: true }).map(
        ({ totalMoults }) => totalMoults,
      ),
    ).toEqual([6])
    expect(openCourses(creobroter, { sex: 'male', moults: 11 })).toEqual([
      { sex: 'male', totalMoults: 12, weight: 1 },
    ])
    fc.assert(
      fc.property(anySlug, anySex, fc.nat(12), (slug, sex, moults) => {
        const weights = openCourses(profileOf(slug), { sex, moults }).map(({ weight }) => weight)
        expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 9)
      }),
    )
  })
})

describe('the next moult', () => {
  it('of a fresh fourth-instar Creobroter at 26 °C has its middle at the profile’s 13.6 days', () => {
    const { p10, p50, p90 } = dated(forecastNextMoult(nymph()))
    expect(daysBetween('2026-11-01', p50)).toBeGreaterThanOrEqual(13)
    expect(daysBetween('2026-11-01', p50)).toBeLessThanOrEqual(14)
    const spread = Math.exp(1.2816 * priorInstarLogSd(creobroter, 3))
    expect(Math.abs(daysBetween('2026-11-01', p10) - 13.6 / spread)).toBeLessThan(1.5)
    expect(Math.abs(daysBetween('2026-11-01', p90) - 13.6 * spread)).toBeLessThan(2)
  })

  const anyAnimal = fc.record({
    slug: anySlug,
    sex: anySex,
    moults: fc.nat(7),
    spentDays: fc.nat(90),
    dayC: fc.integer({ min: 20, max: 33 }),
  })

  it('has its 10, 50 and 90 % dates in order, from today on, and chances that only grow', () => {
    fc.assert(
      fc.property(anyAnimal, ({ slug, sex, moults, spentDays, dayC }) => {
        const profile = profileOf(slug)
        const today = addDays('2026-01-01', spentDays)
        const input = { profile, sex, moults, instarStartedOn: '2026-01-01', history: steady(dayC), today }
        for (const forecast of [dated(forecastNextMoult(input)), dated(forecastAdult(input))]) {
          expect(today <= forecast.p10 && forecast.p10 <= forecast.p50 && forecast.p50 <= forecast.p90).toBe(
            true,
          )
          const chances = forecast.chanceWithin.map(({ probability }) => probability)
          expect(
            chances.every(
              (chance, index) =>
                chance >= -1e-12 && chance <= 1 && chance >= (chances[index - 1] ?? 0) - 1e-9,
            ),
          ).toBe(true)
        }
      }),
      {
        numRuns: 60,
        examples: [
          [{ slug: 'idolomantis-diabolica', sex: 'unsexed', moults: 0, spentDays: 77, dayC: 20 }],
          [{ slug: 'idolomantis-diabolica', sex: 'female', moults: 0, spentDays: 90, dayC: 20 }],
        ],
      },
    )
  })

  it('is never expected before today however late it is, and moves back while the animal waits', () => {
    let last = '2026-11-01'
    for (let waited = 0; waited <= 80; waited += 1) {
      const today = addDays('2026-11-01', waited)
      const { p50 } = dated(forecastNextMoult(nymph({ today })))
      expect(p50 >= today).toBe(true)
      expect(p50 >= last).toBe(true)
      last = p50
    }
  })

  it('says that it is overdue only when it is', () => {
    expect(dated(forecastNextMoult(nymph({ today: '2026-11-15' }))).isOverdue).toBe(false)
    const late = dated(forecastNextMoult(nymph({ today: '2026-12-10' })))
    expect(late.isOverdue).toBe(true)
    expect(late.reason).toContain('look for a skin')
  })

  it('never comes later in a warmer room', () => {
    fc.assert(
      fc.property(anyAnimal, ({ slug, sex, moults, dayC }) => {
        const cool = nymph({ profile: profileOf(slug), sex, moults, history: steady(dayC) })
        const warm = { ...cool, history: steady(dayC + 1) }
        for (const forecast of [forecastNextMoult, forecastAdult]) {
          const [later, earlier] = [dated(forecast(cool)), dated(forecast(warm))]
          expect(earlier.p10 <= later.p10 && earlier.p50 <= later.p50 && earlier.p90 <= later.p90).toBe(true)
        }
      }),
      { numRuns: 40 },
    )
  })

  it('is not dated in a room too cold to grow, and not asked of an adult', () => {
    const cold = forecastNextMoult(nymph({ history: steady(9) }))
    expect(cold.status).toBe('too-cold')
    expect(forecastNextMoult(nymph({ isAdult: true })).status).toBe('adult')
    expect(forecastMoultSeries(nymph({ isAdult: true }), '2027-12-01')).toEqual([])
  })

  it('takes the days before a move into account at their own temperature', () => {
    const moved = [
      { from: '2026-10-01', until: '2026-11-08', dayC: 19 },
      { from: '2026-11-08', until: null, dayC: 26 },
    ]
    const kept = dated(forecastNextMoult(nymph({ today: '2026-11-08' })))
    const cooled = dated(forecastNextMoult(nymph({ today: '2026-11-08', history: moved })))
    expect(cooled.basis.spentEffectiveDays).toBeCloseTo(3.5, 9)
    expect(cooled.p50 > kept.p50).toBe(true)
  })

  it('names the records it comes from in one line', () => {
    const { reason } = dated(forecastNextMoult(nymph({ today: '2026-11-09' })))
    expect(reason).toContain('Moulted on 1 Nov: 8 days')
    expect(reason).not.toContain('\n')
  })

  it('agrees with animals played out one by one that have not moulted by today', () => {
    const stream = seededStream('waiting')
    const median = medianInstarDays(creobroter, { sex: 'female', totalMoults: 7 }, 3)
    const lengths = Array.from({ length: 60_000 }, () =>
      stream.lognormal(Math.log(median), priorInstarLogSd(creobroter, 3)),
    )
    for (const waited of [0, 6, 12, 18, 26]) {
      const input = nymph({ today: addDays('2026-11-01', waited), futureTemperatureSdC: 0 })
      const still = lengths.filter((length) => length > waited)
      for (const { days, probability } of dated(forecastNextMoult(input)).chanceWithin) {
        const counted = still.filter((length) => length <= waited + days).length / still.length
        expect(Math.abs(probability - counted), `${days} days after ${waited}`).toBeLessThan(0.03)
      }
    }
  })

  it('is likelier to be the final one the longer it takes, as the last nymphal instar is the longest', () => {
    const chances = [1, 12, 24, 36].map(
      (waited) =>
        dated(forecastNextMoult(nymph({ moults: 5, today: addDays('2026-11-01', waited) }))).chanceFinal,
    )
    expect(chances[0]).toBeCloseTo(0.1, 2)
    expect(chances.every((chance, index) => index === 0 || chance > chances[index - 1]!)).toBe(true)
  })

  it('falls on the day in which the waiting ends, counted from noon to noon', () => {
    const prior = priorParameters(creobroter)
    const certain = {
      ...prior,
      noiseLogSd: 1e-3,
      covariance: prior.covariance.map((row) => row.map(() => 0)),
    }
    // 13.57 effective days at a rate of 1.0204 take 13.3 days: from noon of the 1st to the evening of the 14th.
    const { p10, p50, p90 } = dated(
      forecastNextMoult(nymph({ parameters: certain, history: steady(26.286), futureTemperatureSdC: 0 })),
    )
    expect([p10, p50, p90]).toEqual(['2026-11-14', '2026-11-14', '2026-11-14'])
  })

  it('becomes narrower with learned parameters and follows their bias', () => {
    const prior = priorParameters(creobroter)
    const learned = {
      ...prior,
      species: Math.log(1.2),
      covariance: prior.covariance.map((row) => row.map((cell) => cell / 10)),
    }
    const before = dated(forecastNextMoult(nymph()))
    const after = dated(forecastNextMoult(nymph({ parameters: learned })))
    expect(daysBetween(after.p10, after.p90)).toBeLessThan(daysBetween(before.p10, before.p90))
    expect(Math.abs(daysBetween('2026-11-01', after.p50) - 13.57 * 1.2)).toBeLessThan(1.2)
    expect(after.reason).toContain('your own records')
  })

  it('of a last nymphal instar that shows wing buds is the final one', () => {
    const seen = dated(forecastNextMoult(nymph({ moults: 6, hasWingBuds: true })))
    expect(seen.chanceFinal).toBe(1)
    const unknown = dated(forecastNextMoult(nymph({ moults: 6, sex: 'unsexed' })))
    expect(unknown.chanceFinal).toBeGreaterThan(0)
    expect(unknown.chanceFinal).toBeLessThan(1)
  })

  it('does not depend on the time zone of the machine', () => {
    const zone = process.env.TZ
    const forecasts = ['Pacific/Kiritimati', 'America/St_Johns', 'UTC'].map((timeZone) => {
      process.env.TZ = timeZone
      return JSON.stringify([forecastNextMoult(nymph()), forecastAdult(nymph())])
    })
    process.env.TZ = zone
    expect(new Set(forecasts).size).toBe(1)
  })
})

describe('the final moult and those on the way', () => {
  it('come later and wider one after the other', () => {
    const series = forecastMoultSeries(nymph({ moults: 1 }), '2027-12-01')
    const widths = series.map(({ p10, p90 }) => daysBetween(p10, p90))
    expect(series.map(({ moults }) => moults)).toEqual([2, 3, 4, 5, 6, 7, 8])
    series.forEach((window, index) => {
      const before = series[index - 1]
      if (!before) return
      expect(window.p50 > before.p50).toBe(true)
      expect(widths[index]).toBeGreaterThan(widths[index - 1]!)
      expect(window.chance).toBeLessThanOrEqual(before.chance + 1e-12)
    })
    expect(forecastMoultSeries(nymph({ moults: 1 }), '2026-11-30').length).toBeLessThan(series.length)
  })

  it('agree with animals played out one by one', () => {
    const input = nymph({ moults: 2, today: '2026-11-08', futureTemperatureSdC: 0 })
    const played = playedAdultDays(input, 20_000)
    const { p10, p50, p90 } = dated(forecastAdult(input))
    const quantile = (share: number) => played[Math.floor(share * played.length)]!
    for (const [date, share] of [
      [p10, 0.1],
      [p50, 0.5],
      [p90, 0.9],
    ] as const) {
      expect(Math.abs(daysBetween(input.today, date) - quantile(share)), `${share}`).toBeLessThan(2.5)
    }
  })

  it('hold eight of ten animals in their window when the workspace is as unknown as the prior says', () => {
    const stream = seededStream('coverage')
    const median = medianInstarDays(creobroter, { sex: 'female', totalMoults: 7 }, 3)
    let inside = 0
    let asked = 0
    while (asked < 1500) {
      const length = stream.lognormal(Math.log(median), priorInstarLogSd(creobroter, 3))
      const spentDays = stream.integer(0, 8)
      // Asked at noon, and only about animals that are still in the instar.
      if (length <= spentDays) continue
      asked += 1
      const perDay = rate(26 + stream.normal(0, 1.5), thresholdsOf(creobroter))
      const today = addDays('2026-11-01', spentDays)
      const moultOn = addDays(today, Math.floor(0.5 + (length - spentDays) / Math.max(0.05, perDay)))
      const { p10, p90 } = dated(forecastNextMoult(nymph({ today })))
      if (p10 <= moultOn && moultOn <= p90) inside += 1
    }
    // Whole days at both ends hold a little more than the 80 % between them.
    expect(inside / asked).toBeGreaterThan(0.79)
    expect(inside / asked).toBeLessThan(0.87)
  })
})

/** Days from today to the adult of animals drawn from the prior, sorted; the present instar must outlast today. */
function playedAdultDays(input: DevelopmentInput, count: number): number[] {
  const stream = seededStream('played')
  const clock = developmentClock(input.history, thresholdsOf(input.profile))
  const spent = effectiveDays(clock, input.instarStartedOn, input.today)
  const noise = priorParameters(input.profile).noiseLogSd
  const found: number[] = []
  while (found.length < count) {
    const shared = stream.normal(0, Math.sqrt(0.25 ** 2 + 0.12 ** 2 + 0.08 ** 2))
    const draw = stream.uniform()
    const totalMoults = draw < 0.1 ? 6 : draw < 0.9 ? 7 : 8
    const lengths = Array.from({ length: totalMoults - input.moults }, (_, index) => {
      const log = Math.log(
        medianInstarDays(input.profile, { sex: 'female', totalMoults }, input.moults + index),
      )
      return Math.exp(log + shared + stream.normal(0, 0.1) + stream.normal(0, noise))
    })
    if (lengths[0]! <= spent) continue
    found.push(lengths.reduce((sum, length) => sum + length, 0) - spent)
  }
  return found.sort((a, b) => a - b)
}

describe('hardening', () => {
  it('lasts two days after a nymphal and six after the final moult', () => {
    expect(hardeningUntil(creobroter, { lastMoultOn: '2026-11-01', isFinal: false })).toBe('2026-11-03')
    expect(hardeningUntil(creobroter, { lastMoultOn: '2026-11-01', isFinal: true })).toBe('2026-11-07')
    const moult = { lastMoultOn: '2026-11-01', isFinal: false }
    expect(
      ['2026-10-31', '2026-11-01', '2026-11-02', '2026-11-03'].map((today) =>
        isHardening(creobroter, { ...moult, today }),
      ),
    ).toEqual([false, true, true, false])
  })
})
