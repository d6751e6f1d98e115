/**
 * Plain calendar dates, `YYYY-MM-DD`, in the proleptic Gregorian calendar, years 0001–9999.
 * No clock and no time zone: a date is a square on the wall calendar of the workspace.
 * Arithmetic goes through the day number (days since 1970-01-01), O(1) each.
 * Source of the day-number arithmetic: the 400-year era method, widely published as "days from civil".
 */
export type PlainDate = string

const DAYS_BEFORE_1970 = 719_468
const DAYS_IN_ERA = 146_097

/** 28–31; month 1–12. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31
}

/** True for an existing day written as `YYYY-MM-DD`. */
export function isPlainDate(text: unknown): text is PlainDate {
  if (typeof text !== 'string' || text.length !== 10 || text[4] !== '-' || text[7] !== '-') return false
  const year = digits(text, 0, 4)
  const month = digits(text, 5, 7)
  const day = digits(text, 8, 10)
  return year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month)
}

/** Days since 1970-01-01 (negative before). Throws RangeError on anything that is no date. */
export function dayNumber(date: PlainDate): number {
  if (!isPlainDate(date)) throw new RangeError(`not a calendar date: ${date}`)
  const month = digits(date, 5, 7)
  const year = digits(date, 0, 4) - (month <= 2 ? 1 : 0)
  const era = Math.floor(year / 400)
  const yearOfEra = year - era * 400
  const dayOfYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + digits(date, 8, 10) - 1
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear
  return era * DAYS_IN_ERA + dayOfEra - DAYS_BEFORE_1970
}

/** The date of a whole day number; the inverse of `dayNumber`. Throws RangeError outside 0001–9999. */
export function dateOfDay(day: number): PlainDate {
  if (!Number.isInteger(day)) throw new RangeError(`not a whole day: ${day}`)
  const shifted = day + DAYS_BEFORE_1970
  const era = Math.floor(shifted / DAYS_IN_ERA)
  const dayOfEra = shifted - era * DAYS_IN_ERA
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  )
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100))
  const shiftedMonth = Math.floor((5 * dayOfYear + 2) / 153)
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0)
  if (year < 1 || year > 9999) throw new RangeError(`outside the calendar: day ${day}`)
  const dayOfMonth = dayOfYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1
  return `${pad(year, 4)}-${pad(month, 2)}-${pad(dayOfMonth, 2)}`
}

/** The date a whole number of days later (earlier when negative). */
export function addDays(date: PlainDate, days: number): PlainDate {
  return dateOfDay(dayNumber(date) + days)
}

/** Whole days from one date to the other; negative when `to` is earlier. */
export function daysBetween(from: PlainDate, to: PlainDate): number {
  return dayNumber(to) - dayNumber(from)
}

/** ISO weekday: 1 Monday … 7 Sunday. */
export function weekdayOf(date: PlainDate): number {
  // 1970-01-01 was a Thursday.
  return ((((dayNumber(date) + 3) % 7) + 7) % 7) + 1
}

/** Negative, zero or positive, for sorting. The written form sorts as the calendar does. */
export function compareDates(a: PlainDate, b: PlainDate): number {
  if (a === b) return 0
  return a < b ? -1 : 1
}

export function minDate(a: PlainDate, b: PlainDate): PlainDate {
  return a <= b ? a : b
}

export function maxDate(a: PlainDate, b: PlainDate): PlainDate {
  return a >= b ? a : b
}

/** By hand, as histories of readings ask for day numbers by the thousand. NaN where a character is no digit. */
function digits(text: string, start: number, end: number): number {
  let value = 0
  for (let index = start; index < end; index += 1) {
    const digit = text.charCodeAt(index) - 48
    if (!(digit >= 0 && digit <= 9)) return Number.NaN
    value = value * 10 + digit
  }
  return value
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0')
}
