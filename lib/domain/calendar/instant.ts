import { Temporal } from 'temporal-polyfill'
import type { PlainDate } from './date'

/**
 * The instant at which a clock on the wall shows a date and time, in milliseconds since 1970. In the hour that a
 * change of the clocks leaves out or has twice, the earlier offset counts.
 * @throws RangeError for a time that is none
 */
export function instantOf(on: PlainDate, time: string, timeZone: string): number {
  return Temporal.PlainDateTime.from(`${on}T${time}`).toZonedDateTime(timeZone).epochMilliseconds
}

/** What the clock on the wall shows at an instant: `YYYY-MM-DD` and `HH:MM`. */
export function wallClock(atMs: number, timeZone: string): { on: PlainDate; time: string } {
  const shown = Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(timeZone)
  return {
    on: shown.toPlainDate().toString(),
    time: shown.toPlainTime().toString({ smallestUnit: 'minute' }),
  }
}
