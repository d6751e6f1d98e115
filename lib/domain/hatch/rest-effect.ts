import { daysBetween, type PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { HatchForecast } from './forecast'

/** What another cold rest does to the hatch, said before it is recorded. */
export function sayRestEffect(before: HatchForecast, after: HatchForecast, today: PlainDate): string {
  if (after.status === 'resting') return 'Then it rests with no end planned, and no window can be given.'
  if (after.status === 'too-cold') return after.reason
  const window = `${writeDay(after.p10, today)} to ${writeDay(after.p90, today)}, most likely ${writeDay(after.p50, today)}`
  if (before.status !== 'forecast') return `Then it hatches ${window}.`
  const later = daysBetween(before.p50, after.p50)
  if (later === 0) return `The window stays as it is: ${window}.`
  const moved = `${writeCount(Math.abs(later), 'day')} ${later > 0 ? 'later' : 'earlier'}`
  return `Then it hatches ${window}: ${moved} than as it is recorded now.`
}
