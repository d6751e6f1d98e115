import { dayNumber, type PlainDate, weekdayOf } from './date'

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** "3 Nov" or, in another year than the given one, "3 Nov 2026"; for reasons in English. */
export function writeDay(date: PlainDate, today?: PlainDate): string {
  dayNumber(date)
  const day = `${Number(date.slice(8, 10))} ${MONTHS[Number(date.slice(5, 7)) - 1]}`
  return today !== undefined && date.slice(0, 4) === today.slice(0, 4) ? day : `${day} ${date.slice(0, 4)}`
}

/** "1 day", "4 days". */
export function writeCount(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`
}

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']

/** "Tue, Fri" of ISO weekdays, 1 for Monday. */
export function writeShortWeekdays(weekdays: readonly number[]): string {
  return weekdays.map((day) => (WEEKDAYS[day - 1] ?? '').slice(0, 3)).join(', ')
}

const LONG_MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

/** "Tuesday 24 November", as a page of the day is headed. */
export function writeLongDay(date: PlainDate): string {
  const weekday = WEEKDAYS[weekdayOf(date) - 1] ?? ''
  return `${weekday} ${Number(date.slice(8, 10))} ${LONG_MONTHS[Number(date.slice(5, 7)) - 1] ?? ''}`
}
