import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import {
  dailyRate,
  dateAfterEffectiveDays,
  developmentClock,
  effectiveDays,
  rate,
  shiftedClock,
} from '@/lib/domain/development/clock'
import { clipHistory, historyOfStays, overlayHistory } from '@/lib/domain/development/temperature-history'
import { steady } from '../cases/profile'
import { RELATIVE_RATES } from '../cases/published-series'

const THRESHOLDS = { lowerC: 12, referenceC: 26, upperC: 34 }
const anyHistory = fc
  .array(
    fc.record({
      days: fc.integer({ min: 1, max: 40 }),
      dayC: fc.integer({ min: 2, max: 40 }),
      nightC: fc.option(fc.integer({ min: 2, max: 30 }), { nil: undefined }),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((stretches) => {
    let from = '2026-01-01'
    return stretches.map(({ days, dayC, nightC }) => {
      const segment = { from, until: addDays(from, days), dayC, nightC }
      from = segment.until
      return segment
    })
  })

describe('the development clock', () => {
  for (const { temperatureC, rate: expected } of RELATIVE_RATES) {
    it(`runs ${expected} × as fast at ${temperatureC} °C as at 26 °C`, () => {
      expect(rate(temperatureC, THRESHOLDS)).toBeCloseTo(expected, 2)
    })
  }

  it('stands still in the cold and gets no faster above the upper threshold', () => {
    expect(rate(12, THRESHOLDS)).toBe(0)
    expect(rate(4, THRESHOLDS)).toBe(0)
    expect(rate(45, THRESHOLDS)).toBe(rate(34, THRESHOLDS))
  })

  it('averages rates over day and night, not temperatures', () => {
    expect(dailyRate({ dayC: 26, nightC: 8 }, THRESHOLDS)).toBeCloseTo(0.5, 9)
    expect(dailyRate({ dayC: 26, nightC: 8 }, THRESHOLDS)).toBeGreaterThan(rate(17, THRESHOLDS))
  })

  it('counts one effective day a day at the reference', () => {
    const clock = developmentClock(steady(26), THRESHOLDS)
    expect(effectiveDays(clock, '2026-02-01', '2026-03-01')).toBeCloseTo(28, 9)
    expect(effectiveDays(clock, '2026-03-01', '2026-02-01')).toBeCloseTo(-28, 9)
    expect(dateAfterEffectiveDays(clock, '2026-02-01', 28)).toBe('2026-03-01')
  })

  it('adds up day by day, whatever the zone went through', () => {
    fc.assert(
      fc.property(anyHistory, fc.nat(200), fc.nat(100), (history, offset, length) => {
        const clock = developmentClock(history, THRESHOLDS)
        const from = addDays('2025-12-15', offset)
        let sum = 0
        for (let day = 0; day < length; day += 1) {
          const on = addDays(from, day)
          const current = history.findLast((segment) => segment.from <= on) ?? history[0]!
          sum += dailyRate(current, THRESHOLDS)
        }
        expect(effectiveDays(clock, from, addDays(from, length))).toBeCloseTo(sum, 6)
      }),
    )
  })

  it('names the first date by which enough has passed', () => {
    fc.assert(
      fc.property(
        anyHistory,
        fc.nat(200),
        fc.double({ min: 0.1, max: 80, noNaN: true }),
        (history, offset, amount) => {
          const clock = developmentClock(history, THRESHOLDS)
          const from = addDays('2025-12-15', offset)
          const found = dateAfterEffectiveDays(clock, from, amount)
          if (found === null) {
            expect(effectiveDays(clock, from, addDays(from, 4000))).toBeLessThan(amount)
            return
          }
          expect(effectiveDays(clock, from, found)).toBeGreaterThanOrEqual(amount - 1e-6)
          expect(effectiveDays(clock, from, addDays(found, -1))).toBeLessThan(amount + 1e-6)
        },
      ),
    )
  })

  it('never names a date in a room too cold to grow', () => {
    expect(dateAfterEffectiveDays(developmentClock(steady(10), THRESHOLDS), '2026-01-01', 1)).toBeNull()
  })

  it('does not mind the order of the records', () => {
    fc.assert(
      fc.property(anyHistory, (history) => {
        const forwards = developmentClock(history, THRESHOLDS)
        const backwards = developmentClock([...history].reverse(), THRESHOLDS)
        expect(effectiveDays(backwards, '2025-12-01', '2026-12-01')).toBe(
          effectiveDays(forwards, '2025-12-01', '2026-12-01'),
        )
      }),
    )
  })

  it('needs at least one temperature', () => {
    expect(() => developmentClock([], THRESHOLDS)).toThrow(RangeError)
  })

  it('shifts only the temperatures from today on', () => {
    fc.assert(
      fc.property(anyHistory, fc.integer({ min: -20, max: 250 }), (history, offset) => {
        const today = addDays('2026-01-01', offset)
        const fromDay = daysBetween('1970-01-01', today)
        const clock = developmentClock(history, THRESHOLDS)
        const warmer = shiftedClock(history, THRESHOLDS, { fromDay, byC: 2 })
        const [before, after] = [addDays(today, -90), addDays(today, 90)]
        expect(effectiveDays(warmer, before, addDays(today, -1))).toBeCloseTo(
          effectiveDays(clock, before, addDays(today, -1)),
          6,
        )
        expect(effectiveDays(warmer, today, after)).toBeGreaterThanOrEqual(
          effectiveDays(clock, today, after) - 1e-9,
        )
        const same = shiftedClock(history, THRESHOLDS, { fromDay, byC: 0 })
        expect(effectiveDays(same, before, after)).toBeCloseTo(effectiveDays(clock, before, after), 6)
      }),
    )
  })
})

describe('temperature histories', () => {
  it('follow an animal from zone to zone: it takes the effective days it has with it', () => {
    const history = historyOfStays([
      { from: '2026-03-01', until: '2026-03-11', history: steady(26) },
      { from: '2026-03-11', until: null, history: steady(19) },
    ])
    const clock = developmentClock(history, THRESHOLDS)
    expect(effectiveDays(clock, '2026-03-01', '2026-03-21')).toBeCloseTo(15, 9)
    expect(effectiveDays(clock, '2026-03-21', '2026-03-31')).toBeCloseTo(5, 9)
  })

  it('keep only what lies between two dates', () => {
    const zone = [
      { from: '2026-01-01', until: '2026-02-01', dayC: 20 },
      { from: '2026-02-01', until: null, dayC: 28 },
    ]
    expect(clipHistory(zone, '2026-01-15', '2026-02-10')).toEqual([
      { from: '2026-01-15', until: '2026-02-01', dayC: 20 },
      { from: '2026-02-01', until: '2026-02-10', dayC: 28 },
    ])
  })

  it('take a zone’s new setting from the very day of a move into it', () => {
    const zone = [
      { from: '2026-01-01', until: '2026-02-01', dayC: 12 },
      { from: '2026-02-01', until: null, dayC: 26 },
    ]
    const clock = developmentClock(clipHistory(zone, '2026-02-01', null), THRESHOLDS)
    expect(effectiveDays(clock, '2026-02-01', '2026-02-11')).toBeCloseTo(10, 9)
  })

  it('stand still under a cold rest and go on as before after it', () => {
    const resting = overlayHistory(steady(26), { from: '2026-01-01', until: '2026-03-01', dayC: 6 })
    const clock = developmentClock(resting, THRESHOLDS)
    expect(effectiveDays(clock, '2025-12-22', '2026-01-01')).toBeCloseTo(10, 9)
    expect(effectiveDays(clock, '2026-01-01', '2026-03-01')).toBe(0)
    expect(effectiveDays(clock, '2026-03-01', '2026-03-11')).toBeCloseTo(10, 9)
  })

  it('keep the temperature of a zone first measured after the rest began', () => {
    const late = [{ from: '2026-02-01', until: null, dayC: 26 }]
    const clock = developmentClock(
      overlayHistory(late, { from: '2026-01-01', until: '2026-03-01', dayC: 6 }),
      THRESHOLDS,
    )
    expect(effectiveDays(clock, '2025-12-22', '2026-03-11')).toBeCloseTo(20, 9)
  })
})
