import { addDays, type PlainDate, weekdayOf } from '../calendar/date'

/** Minutes for parting by weekday, Monday first, until a workspace says its own (default). */
export const USUAL_MINUTES: readonly number[] = [60, 60, 60, 60, 60, 120, 120]

/** One day unlike its weekday. */
export type UnusualDay = { on: PlainDate; minutes: number }

/** The minutes of so many days from a first one on. */
export function minutesByDay(
  week: readonly number[],
  span: { from: PlainDate; days: number },
  unusual: readonly UnusualDay[] = [],
): { on: PlainDate; minutes: number }[] {
  const byDay = new Map(unusual.map(({ on, minutes }) => [on, minutes]))
  return Array.from({ length: span.days }, (_, day) => {
    const on = addDays(span.from, day)
    return { on, minutes: byDay.get(on) ?? week[weekdayOf(on) - 1] ?? 0 }
  })
}

/** "1 h 30", "45 min", "no time". */
export function writeMinutes(minutes: number): string {
  const whole = Math.round(minutes)
  if (whole <= 0) return 'no time'
  const hours = Math.floor(whole / 60)
  const rest = whole % 60
  if (hours === 0) return `${rest} min`
  return rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, '0')}`
}
