import { scaleLinear } from 'd3-scale'
import { addDays, dayNumber, type PlainDate } from '@/lib/domain/calendar/date'

export type DayScale = (on: PlainDate) => number

/** Days on a line of px: a date stands at the beginning of its day. */
export function createDayScale(days: { from: PlainDate; until: PlainDate }, px: [number, number]): DayScale {
  const from = dayNumber(days.from)
  const until = Math.max(dayNumber(days.until), from + 1)
  const scale = scaleLinear().domain([from, until]).range(px).clamp(true)
  return (on) => scale(dayNumber(on))
}

const SHORT = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' })
const MONTH = new Intl.DateTimeFormat('en-GB', { month: 'short', timeZone: 'UTC' })

function toInstant(on: PlainDate): number {
  return dayNumber(on) * 86_400_000
}

/** "24 Nov" */
export function shortDay(on: PlainDate): string {
  return SHORT.format(toInstant(on))
}

/** "24 Nov – 2 Dec", or one day. */
export function shortRange(from: PlainDate, until: PlainDate): string {
  return from === until ? shortDay(from) : `${shortDay(from)} – ${shortDay(until)}`
}

export type Tick = { on: PlainDate; label: string }

/** First days of the months in a stretch: a January says its year. */
export function listMonths(from: PlainDate, until: PlainDate): Tick[] {
  const ticks: Tick[] = []
  for (let on = from; on <= until; on = addDays(on, 1)) {
    if (!on.endsWith('-01')) continue
    const label = MONTH.format(toInstant(on))
    ticks.push({ on, label: on.slice(5, 7) === '01' ? `${label} ${on.slice(0, 4)}` : label })
  }
  return ticks
}

/** Every seventh day counted from `from`. */
export function listWeeks(from: PlainDate, until: PlainDate): Tick[] {
  const ticks: Tick[] = []
  for (let on = from; on <= until; on = addDays(on, 7)) ticks.push({ on, label: shortDay(on) })
  return ticks
}
