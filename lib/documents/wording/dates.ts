import { dayNumber, type PlainDate } from '@/lib/domain/calendar/date'
import type { Wording } from './units'

const MS_PER_DAY = 86_400_000

/** "24 November 2026" */
export function longDateText(date: PlainDate, wording: Wording): string {
  return dateFormat({ day: 'numeric', month: 'long', year: 'numeric' }, wording).format(instantOf(date))
}

/** "24 Nov 2026" */
export function shortDateText(date: PlainDate, wording: Wording): string {
  return dateFormat({ day: 'numeric', month: 'short', year: 'numeric' }, wording).format(instantOf(date))
}

/** "24 November", inside the year that the reader has in mind. */
export function dayAndMonthText(date: PlainDate, wording: Wording): string {
  return dateFormat({ day: 'numeric', month: 'long' }, wording).format(instantOf(date))
}

/** "24 Nov" */
export function briefDateText(date: PlainDate, wording: Wording): string {
  return dateFormat({ day: 'numeric', month: 'short' }, wording).format(instantOf(date))
}

/** "28 Nov – 8 Dec" */
export function briefDateRangeText(from: PlainDate, to: PlainDate, wording: Wording): string {
  return dateFormat({ day: 'numeric', month: 'short' }, wording).formatRange(instantOf(from), instantOf(to))
}

/** One or two letters for the day of the week. */
export function weekdayLetterText(date: PlainDate, wording: Wording): string {
  return dateFormat({ weekday: 'narrow' }, wording).format(instantOf(date))
}

/** A plain date has no zone: it is laid on UTC for the formatter, which is told to read it as UTC. */
function instantOf(date: PlainDate): number {
  return dayNumber(date) * MS_PER_DAY
}

const formats = new Map<string, Intl.DateTimeFormat>()

/** Kept, because making one takes longer than setting a line of type. */
function dateFormat(parts: Intl.DateTimeFormatOptions, { locale }: Wording): Intl.DateTimeFormat {
  const key = `${locale} ${JSON.stringify(parts)}`
  const format = formats.get(key) ?? new Intl.DateTimeFormat(locale, { ...parts, timeZone: 'UTC' })
  formats.set(key, format)
  return format
}
