import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { forecastHatch, type HatchForecast, type HatchInput, hatchChances } from '@/lib/domain/hatch/forecast'
import { sayRestEffect } from '@/lib/domain/hatch/rest-effect'
import { hatchWeeks } from '@/lib/domain/hatch/weeks'
import { seededStream } from '@/lib/domain/random/seeded'
import { profileOf, steady } from '../cases/profile'

const creobroter = profileOf('creobroter-spp')
const tenodera = profileOf('tenodera-sinensis')
const religiosa = profileOf('mantis-religiosa')

function eggs(changes: Partial<HatchInput> = {}): HatchInput {
  return {
    profile: creobroter,
    laid: { kind: 'known', on: '2026-10-01' },
    history: steady(27),
    today: '2026-10-01',
    futureTemperatureSdC: 0,
    ...changes,
  }
}

function dated(forecast: HatchForecast) {
  if (forecast.status !== 'forecast') throw new Error(`no window: ${forecast.status}`)
  return forecast
}

describe('the hatch window', () => {
  it('is the range of the profile at the temperature it is stated for', () => {
    for (const { profile, slug } of DEFAULT_PROFILES) {
      const { minDays, maxDays, minC, maxC } = profile.hatch.incubation.value
      const { p10, p90 } = dated(forecastHatch(eggs({ profile, history: steady((minC + maxC) / 2) })))
      expect(Math.abs(daysBetween('2026-10-01', p10) - minDays), slug).toBeLessThanOrEqual(1)
      expect(Math.abs(daysBetween('2026-10-01', p90) - maxDays), slug).toBeLessThanOrEqual(1)
    }
  })

  it('is in order, never before today, later in a cooler room and wider in an unsteady one', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFAULT_PROFILES.map(({ slug }) => slug)),
        fc.integer({ min: 20, max: 31 }),
        fc.nat(70),
        (slug, dayC, waited) => {
          const today = addDays('2026-10-01', waited)
          const { p10, p50, p90 } = dated(
            forecastHatch(eggs({ profile: profileOf(slug), today, history: steady(dayC) })),
          )
          expect(today <= p10 && p10 <= p50 && p50 <= p90).toBe(true)
        },
      ),
      { numRuns: 60 },
    )
    const warm = dated(forecastHatch(eggs()))
    const cool = dated(forecastHatch(eggs({ history: steady(22) })))
    const unsteady = dated(forecastHatch(eggs({ futureTemperatureSdC: 3 })))
    expect(cool.p50 > warm.p50).toBe(true)
    expect(daysBetween(unsteady.p10, unsteady.p90)).toBeGreaterThan(daysBetween(warm.p10, warm.p90))
  })

  it('agrees with egg cases played out one by one that have not hatched by today', () => {
    const stream = seededStream('egg cases')
    const logSd = Math.log(40 / 28) / (2 * 1.2815515655)
    const lengths = Array.from({ length: 60_000 }, () =>
      stream.lognormal(Math.log(Math.sqrt(28 * 40)), logSd),
    )
    for (const waited of [0, 20, 33, 40, 45]) {
      const { chanceWithin } = dated(forecastHatch(eggs({ today: addDays('2026-10-01', waited) })))
      const still = lengths.filter((length) => length > waited)
      for (const { days, probability } of chanceWithin) {
        const counted = still.filter((length) => length <= waited + days).length / still.length
        expect(Math.abs(probability - counted), `${days} days after ${waited}`).toBeLessThan(0.04)
      }
    }
  })

  it('waits for warmth in a room too cold to develop', () => {
    expect(forecastHatch(eggs({ history: steady(8) })).status).toBe('too-cold')
  })

  it('is wider when the laying is a range, and widest when only the receipt is known', () => {
    const width = (changes: Partial<HatchInput>) => {
      const { p10, p90 } = dated(forecastHatch(eggs(changes)))
      return daysBetween(p10, p90)
    }
    const known = width({})
    const range = width({ laid: { kind: 'range', from: '2026-09-21', until: '2026-10-01' } })
    const received = width({ laid: { kind: 'received', on: '2026-10-01' } })
    expect(range).toBeGreaterThan(known)
    expect(received).toBeGreaterThan(range)
  })
})

describe('a cold rest', () => {
  const rest = { startedOn: '2026-11-01', endedOn: '2027-01-10' }

  it('keeps the days before it in Tenodera and begins anew in a cold strain of Mantis religiosa', () => {
    const laid = { kind: 'known', on: '2026-10-12' } as const
    const kept = dated(
      forecastHatch(
        eggs({ profile: tenodera, history: steady(26), laid, coldRest: rest, today: '2027-01-10' }),
      ),
    )
    const anew = dated(
      forecastHatch(
        eggs({ profile: religiosa, history: steady(25), laid, coldRest: rest, today: '2027-01-10' }),
      ),
    )
    expect(daysBetween('2027-01-10', kept.p50)).toBeLessThan(20)
    expect(Math.abs(daysBetween('2027-01-10', anew.p50) - Math.sqrt(30 * 45))).toBeLessThan(2)
  })

  it('that is planned moves the window behind it before it has begun', () => {
    const laid = { kind: 'known', on: '2026-10-12' } as const
    const planned = { startedOn: '2026-11-01', plannedEndOn: '2027-01-10' }
    for (const profile of [tenodera, religiosa]) {
      const window = dated(
        forecastHatch(eggs({ profile, history: steady(25), laid, coldRest: planned, today: '2026-10-20' })),
      )
      expect(window.p10 > '2027-01-10').toBe(true)
    }
  })

  it('without an end is told as resting, not as a date', () => {
    const forecast = forecastHatch(
      eggs({ profile: religiosa, coldRest: { startedOn: '2026-10-10' }, today: '2026-12-01' }),
    )
    expect(forecast).toMatchObject({ status: 'resting', since: '2026-10-10' })
  })

  it('whose planned end has passed without a record goes on until today', () => {
    const planned = { startedOn: '2026-11-01', plannedEndOn: '2027-01-10' }
    const window = dated(
      forecastHatch(
        eggs({ profile: religiosa, history: steady(25), coldRest: planned, today: '2027-02-10' }),
      ),
    )
    expect(daysBetween('2027-02-10', window.p50)).toBeGreaterThan(30)
  })

  it('is asked for where a cold strain had none', () => {
    expect(dated(forecastHatch(eggs({ profile: religiosa }))).reason).toContain('cold rest')
    expect(
      dated(forecastHatch(eggs({ profile: religiosa, coldRest: rest, today: '2027-01-12' }))).reason,
    ).toContain('10 Jan')
  })
})

describe('whether it still hatches', () => {
  it('begins with the fertile share and falls with every day past the window', () => {
    let last = 1
    for (let waited = 0; waited <= 150; waited += 5) {
      const { chanceStillHatches } = forecastHatch(eggs({ today: addDays('2026-10-01', waited) }))
      expect(chanceStillHatches).toBeLessThanOrEqual(last + 1e-12)
      last = chanceStillHatches
    }
    expect(forecastHatch(eggs()).chanceStillHatches).toBeCloseTo(0.85, 6)
    expect(last).toBeLessThan(0.01)
  })

  it('climbs the ladder of reminders: open at 80 %, overdue at 150 %, doubtful at 250 %', () => {
    const typicalDays = Math.sqrt(28 * 40)
    const stateAfter = (share: number) =>
      dated(forecastHatch(eggs({ today: addDays('2026-10-01', Math.ceil(share * typicalDays)) }))).reminder
        .state
    expect([0.5, 0.82, 1.3, 1.55, 2.4, 2.55].map(stateAfter)).toEqual([
      'expected',
      'open',
      'open',
      'overdue',
      'overdue',
      'doubtful',
    ])
  })

  it('is never called doubtful in a species that may only be waiting for its rest', () => {
    const { reminder } = dated(
      forecastHatch(eggs({ profile: tenodera, history: steady(26), today: '2027-02-20' })),
    )
    expect(reminder).toMatchObject({ state: 'overdue', doubtfulOn: null })
  })

  it('tells how many nymphs to be ready for, from own records where there are any', () => {
    expect(forecastHatch(eggs()).expectedNymphs).toEqual({ low: 10, typical: 30, high: 60 })
    expect(forecastHatch(eggs({ nymphs: { low: 20, typical: 33, high: 41 } })).expectedNymphs.typical).toBe(
      33,
    )
  })
})

describe('the weeks ahead', () => {
  const today = '2026-11-01'
  const known = (laidOn: string) => ({
    profile: profileOf('creobroter-spp'),
    laid: { kind: 'known' as const, on: laidOn },
    history: steady(26),
    today,
  })

  it('share out the chance of each egg case, and count nymphs by it', () => {
    const input = known(addDays(today, -25))
    const weeks = hatchWeeks([{ label: 'E-1', input, nymphs: 40 }], 20)
    const chance = hatchChances(input)!.stillHatches
    const sum = weeks.reduce((total, { nymphs }) => total + nymphs, 0)
    expect(sum).toBeCloseTo(40 * chance, 1)
    expect(weeks[0]).toMatchObject({ week: today, until: addDays(today, 6) })
    const most = weeks.reduce((one, other) => (other.nymphs > one.nymphs ? other : one))
    const forecast = forecastHatch(input)
    expect(forecast.status === 'forecast' && most.week <= forecast.p90 && most.until >= forecast.p10).toBe(
      true,
    )
  })

  it('take egg cases as independent of each other', () => {
    const one = { label: 'E-1', input: known(addDays(today, -30)), nymphs: 30 }
    const both = hatchWeeks([one, { ...one, label: 'E-2' }], 6)
    hatchWeeks([one], 6).forEach((alone, week) => {
      expect(both[week]!.chanceOfAny).toBeCloseTo(1 - (1 - alone.chanceOfAny) ** 2, 6)
      expect(both[week]!.nymphs).toBeCloseTo(2 * alone.nymphs, 6)
    })
  })

  it('leave out what rests with no end planned', () => {
    const input = { ...known(addDays(today, -60)), coldRest: { startedOn: addDays(today, -20) } }
    expect(hatchWeeks([{ label: 'E-1', input, nymphs: 30 }], 4).every(({ nymphs }) => nymphs === 0)).toBe(
      true,
    )
    expect(hatchWeeks([], 4)).toEqual([])
  })
})

describe('another end of a cold rest', () => {
  const today = '2026-11-01'
  const input = {
    profile: profileOf('tenodera-sinensis'),
    laid: { kind: 'known' as const, on: addDays(today, -60) },
    history: steady(24),
    today,
  }
  const resting = (plannedEndOn: string | null) =>
    forecastHatch({ ...input, coldRest: { startedOn: addDays(today, -20), plannedEndOn } })

  it('moves the window, and says by how much before it is recorded', () => {
    const before = resting(addDays(today, 30))
    const later = resting(addDays(today, 51))
    expect(sayRestEffect(before, later, today)).toMatch(
      /^Then it hatches .+, most likely .+: 21 days later than/,
    )
    expect(sayRestEffect(later, before, today)).toMatch(/21 days earlier than/)
    expect(sayRestEffect(before, before, today)).toMatch(/^The window stays as it is/)
    expect(sayRestEffect(before, resting(null), today)).toMatch(/no end planned/)
    expect(sayRestEffect(resting(null), before, today)).toMatch(/^Then it hatches .+, most likely [^:]+\.$/)
  })
})
