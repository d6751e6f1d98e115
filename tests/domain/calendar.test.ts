import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  addDays,
  compareDates,
  dateOfDay,
  dayNumber,
  daysBetween,
  daysInMonth,
  isPlainDate,
  maxDate,
  minDate,
  weekdayOf,
} from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'

const anyDay = fc.integer({ min: dayNumber('0001-01-01'), max: dayNumber('9999-12-31') })

describe('plain dates', () => {
  it('agree with the built-in calendar on every day from 1970 to 2100', () => {
    for (let day = 0; day <= dayNumber('2100-12-31'); day += 1) {
      const expected = new Date(day * 86_400_000).toISOString().slice(0, 10)
      if (dateOfDay(day) !== expected) throw new Error(`${day}: ${dateOfDay(day)} instead of ${expected}`)
    }
    expect(dayNumber('1970-01-01')).toBe(0)
  })

  it('come back from their day number, whatever the year', () => {
    fc.assert(fc.property(anyDay, (day) => dayNumber(dateOfDay(day)) === day))
  })

  it('sort as they are written', () => {
    fc.assert(
      fc.property(anyDay, anyDay, (a, b) => {
        const [first, second] = [dateOfDay(a), dateOfDay(b)]
        expect(Math.sign(compareDates(first, second))).toBe(Math.sign(a - b))
        expect(minDate(first, second)).toBe(dateOfDay(Math.min(a, b)))
        expect(maxDate(first, second)).toBe(dateOfDay(Math.max(a, b)))
      }),
    )
  })

  it('know leap years and refuse days that do not exist', () => {
    expect(isPlainDate('2024-02-29')).toBe(true)
    expect(isPlainDate('2000-02-29')).toBe(true)
    for (const wrong of [
      '2026-02-29',
      '1900-02-29',
      '2026-04-31',
      '2026-13-01',
      '2026-00-10',
      '2026-1-1',
      '',
      ' 2026-01-01',
      '26-01-01',
      null,
      5,
    ]) {
      expect(isPlainDate(wrong), String(wrong)).toBe(false)
    }
    expect(() => dayNumber('2026-02-30')).toThrow(RangeError)
    expect(() => dateOfDay(0.5)).toThrow(RangeError)
    expect(daysInMonth(2028, 2)).toBe(29)
  })

  it('count days over a change of clocks and over New Year', () => {
    expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2)
    expect(addDays('2026-12-30', 3)).toBe('2027-01-02')
    expect(addDays('2026-03-01', -1)).toBe('2026-02-28')
  })

  it('know Monday from Sunday', () => {
    expect(weekdayOf('2026-11-23')).toBe(1)
    expect(weekdayOf('2026-11-29')).toBe(7)
    expect(weekdayOf('1969-12-31')).toBe(3)
  })

  it('name the year only where it is another one', () => {
    expect(writeDay('2026-11-03', '2026-12-01')).toBe('3 Nov')
    expect(writeDay('2027-01-03', '2026-12-01')).toBe('3 Jan 2027')
  })
})
