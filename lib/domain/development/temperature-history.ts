import { compareDates, dayNumber, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { TemperatureHistory, TemperatureSegment } from './clock'

/** A stay in one zone; `until` is the day of the move away, null while it lasts. */
export type ZoneStay = { from: PlainDate; until: PlainDate | null; history: TemperatureHistory }

/**
 * The temperatures an animal has lived through, from its stays in zones: an animal that is moved takes the
 * effective days it has with it. After the last stay its zone's temperatures go on.
 */
export function historyOfStays(stays: readonly ZoneStay[]): TemperatureSegment[] {
  return stays.flatMap((stay, index) => {
    const until = index === stays.length - 1 ? null : stay.until
    return clipHistory(stay.history, stay.from, until)
  })
}

/** The part of a history between two dates, beginning exactly at `from`. O(n), without sorting what is in order. */
export function clipHistory(
  history: TemperatureHistory,
  from: PlainDate,
  until: PlainDate | null,
): TemperatureSegment[] {
  const sorted = inOrder(history)
  const current = Math.max(
    0,
    sorted.findLastIndex((segment) => segment.from <= from),
  )
  const after = sorted.findIndex(
    (segment, index) => index > current && until !== null && segment.from >= until,
  )
  const inside = sorted.slice(current, after === -1 ? undefined : after)
  return inside.map((segment) => clipSegment(segment, from, until))
}

function clipSegment(
  segment: TemperatureSegment,
  from: PlainDate,
  until: PlainDate | null,
): TemperatureSegment {
  const ends =
    until !== null && segment.until !== null ? minDate(segment.until, until) : (segment.until ?? until)
  if (segment.from >= from && segment.until === ends) return segment
  return { ...segment, from: maxDate(segment.from, from), until: ends }
}

/** Plain dates are in the order of their letters. */
function inOrder(history: TemperatureHistory): TemperatureHistory {
  const isOrdered = history.every(
    ({ from }, index) => index === 0 || (history[index - 1]?.from ?? '') <= from,
  )
  return isOrdered ? history : [...history].sort((a, b) => compareDates(a.from, b.from))
}

/** The history with one stretch laid over it (a cold rest, a night in transit). */
export function overlayHistory(
  history: TemperatureHistory,
  stretch: TemperatureSegment,
): TemperatureSegment[] {
  const until = stretch.until
  const before = history.filter((segment) => segment.from < stretch.from)
  const sorted = [...history].sort((a, b) => dayNumber(a.from) - dayNumber(b.from))
  const first = sorted[0]
  // Before the first stretch the nearest one holds; without this line that would become the overlay.
  const lead = before.length === 0 && first ? [{ ...first, from: '0001-01-01' }] : []
  const after = until === null ? [] : clipHistory(history, until, null)
  return [...lead, ...before, stretch, ...after]
}
