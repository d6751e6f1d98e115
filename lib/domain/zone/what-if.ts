import { daysBetween, maxDate, minDate, type PlainDate } from '../calendar/date'
import { writeCount } from '../calendar/wording'
import type { KnownZone, ZoneSetPoint, ZonesById } from './history'

/** When something is to be expected: 10, 50 and 90 %. */
export type Window = { p10: PlainDate; p50: PlainDate; p90: PlainDate }

/** One coming date as it is foreseen now, and as it would be; null where nothing can be foreseen. */
export type Move = { before: Window | null; after: Window | null }

/**
 * The zones as they would be known with one of them set otherwise from a day on. What is planned for later days stays
 * planned; what was measured stays as it was.
 */
export function zonesWithSetPoint(
  zones: ZonesById,
  { zoneId, setPoint }: { zoneId: string; setPoint: ZoneSetPoint },
): ZonesById {
  const zone = zones.get(zoneId)
  if (!zone) return zones
  const others = zone.setPoints.filter(({ from }) => from !== setPoint.from)
  const setPoints = [...others, setPoint].sort((a, b) => (a.from < b.from ? -1 : 1))
  const changed: KnownZone = { ...zone, setPoints }
  return new Map([...zones, [zoneId, changed]])
}

/** By how many days the likely date moves: negative is earlier. Null where one of the two is unknown. */
export function shiftDays({ before, after }: Move): number | null {
  return before && after ? daysBetween(before.p50, after.p50) : null
}

/** "3 days earlier", "as now". */
export function sayShift(days: number | null): string {
  if (days === null) return 'cannot be foreseen'
  if (days === 0) return 'as now'
  return `${writeCount(Math.abs(days), 'day')} ${days < 0 ? 'earlier' : 'later'}`
}

/** Several dates of one kind as one line: from the first window's opening to the last one's closing. */
export type MoveGroup = Move & {
  count: number
  /** Smallest and largest shift; null where none can be foreseen. */
  shifts: { least: number; most: number } | null
}

/** O(n). Their likely date is the middle one of all. */
export function groupMoves(moves: readonly Move[]): MoveGroup {
  const shifts = moves.map(shiftDays).filter((days) => days !== null)
  return {
    count: moves.length,
    before: spanWindows(moves.map(({ before }) => before)),
    after: spanWindows(moves.map(({ after }) => after)),
    shifts: shifts.length === 0 ? null : { least: Math.min(...shifts), most: Math.max(...shifts) },
  }
}

function spanWindows(windows: readonly (Window | null)[]): Window | null {
  const known = windows.filter((window) => window !== null)
  const first = known[0]
  if (!first) return null
  const middles = known.map(({ p50 }) => p50).sort()
  return {
    p10: known.map(({ p10 }) => p10).reduce(minDate),
    p50: middles[Math.floor((middles.length - 1) / 2)] ?? first.p50,
    p90: known.map(({ p90 }) => p90).reduce(maxDate),
  }
}

/** "2 to 4 days earlier", "as now", "1 day earlier to 2 days later". */
export function sayShifts({ shifts }: MoveGroup): string {
  if (!shifts) return 'cannot be foreseen'
  const { least, most } = shifts
  if (least === most) return sayShift(least)
  if (most <= 0 && least < 0) return `${-most} to ${writeCount(-least, 'day')} earlier`
  if (least >= 0) return `${least} to ${writeCount(most, 'day')} later`
  return `${sayShift(least)} to ${sayShift(most)}`
}

/** A day's date as a window of its own, for deadlines that are known without a spread. */
export function windowOfDay(
  on: PlainDate,
  between: { earliest: PlainDate; latest: PlainDate } | null,
): Window {
  return { p10: between?.earliest ?? on, p50: on, p90: between?.latest ?? on }
}
