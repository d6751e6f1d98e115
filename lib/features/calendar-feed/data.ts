import type { CalendarEntry } from '@/lib/domain/calendar/icalendar'
import { firstDayTold, type KeptDate } from '@/lib/domain/day-sheet/dates'
import { calendarFeedAddress } from '@/lib/platform/calendar-feed'
import type { Tx } from '@/lib/platform/db'
import { env } from '@/lib/platform/env'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** The address of somebody's own calendar; null where they have none. */
export async function getFeedAddress(
  tx: Tx,
  workspaceId: WorkspaceId,
  personId: string,
): Promise<string | null> {
  const feed = await tx.calendarFeed.findFirst({
    where: { workspaceId, personId, revokedAt: null },
    select: { id: true },
  })
  return feed && calendarFeedAddress(feed.id)
}

export async function listKeptDates(tx: Tx, workspaceId: WorkspaceId): Promise<KeptDate[]> {
  const rows = await tx.calendarDate.findMany({ where: { workspaceId }, orderBy: { key: 'asc' } })
  return rows.map(({ key, sequence, startsOn, endsOn, title, details, path, cancelled }) => ({
    ...{ key, sequence, title, details, path },
    startsOn: toPlainDate(startsOn),
    endsOn: toPlainDate(endsOn),
    isCancelled: cancelled,
  }))
}

/** What a calendar is told: everything that holds, and for some weeks what does not hold any more. */
export async function listCalendarEntries(tx: Tx, workspace: Workspace): Promise<CalendarEntry[]> {
  const { workspaceId, slug, today } = workspace
  const { hostname } = new URL(env().PUBLIC_ADDRESS)
  const rows = await tx.calendarDate.findMany({
    where: {
      workspaceId,
      OR: [{ cancelled: false }, { changedAt: { gte: fromPlainDate(firstDayTold(today)) } }],
    },
    orderBy: [{ startsOn: 'asc' }, { key: 'asc' }],
  })
  return rows.map((row) => ({
    uid: `${row.key}.${workspaceId}@${hostname}`,
    sequence: row.sequence,
    isCancelled: row.cancelled,
    startsOn: toPlainDate(row.startsOn),
    endsOn: toPlainDate(row.endsOn),
    title: row.title,
    details: row.details,
    url: new URL(`/w/${slug}${row.path}`, env().PUBLIC_ADDRESS).href,
    changedAt: row.changedAt,
  }))
}
