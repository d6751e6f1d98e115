import { listCrossings, MINUTE_MS, type WatchLimits } from '@/lib/domain/zone/crossing'
import { requireZoneEntry, stamp, type Workbook } from './workbook'

const WATCHED_SINCE_DAY = -60
const LIMITS = { lowC: 20, highC: 31, delayMinutes: 15, silenceMinutes: null }

type WatchStory = { zone: string; watchers: readonly string[]; takenBy: string }

/** A zone with limits and people on watch, and what happened there since then, as its readings have it. */
export function writeWatch(book: Workbook, { zone, watchers, takenBy }: WatchStory): void {
  const { workspaceId, rows } = book
  const zoneId = requireZoneEntry(book, zone).id
  const sinceAt = book.dateOf(WATCHED_SINCE_DAY)
  rows.zoneWatch.push({ workspaceId, zoneId, ...LIMITS, sinceAt, createdAt: sinceAt })
  rows.zoneWatcher.push(...watchers.map((personId) => ({ workspaceId, zoneId, personId })))
  rows.watchLook.push({ workspaceId, zoneId, dueAt: book.dateOf(0) })
  const limits: WatchLimits = { ...LIMITS, sinceMs: sinceAt.getTime() }
  const measured = rows.reading.flatMap((reading) =>
    reading.zoneId === zoneId && reading.at instanceof Date
      ? [{ atMs: reading.at.getTime(), temperatureC: reading.temperatureC }]
      : [],
  )
  for (const crossing of listCrossings(measured, limits, book.dateOf(0).getTime())) {
    const { kind, beganMs, endedMs, extremeC, limitC } = crossing
    rows.zoneIncident.push({
      ...{ workspaceId, id: stamp(book, 0).id, zoneId, kind, extremeC, limitC },
      ...{ beganAt: new Date(beganMs), endedAt: endedMs === null ? null : new Date(endedMs) },
      ...{ calls: 2, takenBy, takenAt: new Date(beganMs + 28 * MINUTE_MS), createdAt: new Date(beganMs) },
      note: 'The probe had slipped off the shelf and hung in the draught, so the mat stayed on. Fixed it with a clip, moved the smallest cups to the side room for the night. None lost.',
    })
  }
}
