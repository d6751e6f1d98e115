import { dayNumber, type PlainDate } from './date'

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
