import { randomUUID } from 'node:crypto'
import { changedDates } from '@/lib/domain/day-sheet/dates'
import { listKeptDates } from '@/lib/features/calendar-feed/data'
import { loadDayDates } from '@/lib/features/day-sheet/data'
import { calendarFeedHash } from '@/lib/platform/calendar-feed'
import type { Tx } from '@/lib/platform/db'
import { invariant, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor, Workspace } from '@/lib/platform/workspace'

/** Gives a person an address of their own; one they had before stops working. The dates stand there at once. */
export async function createCalendarFeed(tx: Tx, { scope, workspace }: Actor): Promise<{ id: string }> {
  const { workspaceId } = workspace
  const { personId } = scope
  invariant(personId, 'a calendar belongs to a person')
  await tx.calendarFeed.updateMany({
    where: { workspaceId, personId, revokedAt: null },
    data: { revokedAt: new Date() },
  })
  const id = randomUUID()
  await tx.calendarFeed.create({ data: { workspaceId, id, personId, tokenHash: calendarFeedHash(id) } })
  await updateCalendar(tx, workspace)
  return { id }
}

/** @throws AppError not-found where there is none that works */
export async function revokeCalendarFeed(tx: Tx, { scope, workspace }: Actor): Promise<void> {
  const { workspaceId } = workspace
  const { personId } = scope
  invariant(personId, 'a calendar belongs to a person')
  const revoked = await tx.calendarFeed.updateMany({
    where: { workspaceId, personId, revokedAt: null },
    data: { revokedAt: new Date() },
  })
  if (revoked.count === 0) throw refuseUnknown('working calendar address')
}

/**
 * Works out the dates and writes what has changed, one step further in its sequence. Two that do so at once come one
 * after the other: the workspace's own row is taken before its calendar is looked at.
 */
export async function updateCalendar(tx: Tx, workspace: Workspace): Promise<number> {
  const { workspaceId } = workspace
  await tx.$executeRaw`select 1 from workspace where workspace_id = ${workspaceId}::uuid for no key update`
  const present = await loadDayDates(tx, workspace)
  const changed = changedDates(await listKeptDates(tx, workspaceId), present)
  if (changed.length === 0) return 0
  const rows = changed.map(({ startsOn, endsOn, isCancelled, ...date }) => ({
    ...date,
    startsOn: fromPlainDate(startsOn),
    endsOn: fromPlainDate(endsOn),
    cancelled: isCancelled,
    changedAt: new Date(),
  }))
  for (const row of rows)
    await tx.calendarDate.upsert({
      where: { workspaceId_key: { workspaceId, key: row.key } },
      create: { workspaceId, ...row },
      update: row,
    })
  return rows.length
}
