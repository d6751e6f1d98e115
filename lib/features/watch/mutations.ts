import { MINUTE_MS } from '@/lib/domain/zone/crossing'
import {
  isWatched,
  listPossibleWatchers,
  loadWatch,
  requireLook,
  type WatchRow,
} from '@/lib/features/watch/data'
import type { RecordWatch } from '@/lib/features/watch/schema'
import { lockZone, refuseOutOfUse } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/**
 * Sets what a zone is watched for, and who is called. Readings from now on count, so that new limits call nobody for
 * what is past.
 * @throws AppError not-found; stale when someone else saved first; invalid without anybody to call
 */
export async function recordWatch(tx: Tx, workspaceId: WorkspaceId, watch: RecordWatch): Promise<void> {
  const { zoneId } = watch
  refuseOutOfUse(await lockZone(tx, workspaceId, zoneId))
  const present = await loadWatch(tx, workspaceId, zoneId)
  if ((present?.version ?? 0) !== watch.version) throw refuseStale(present)
  const limits = limitsAsked(watch)
  await refuseWatchers(tx, workspaceId, watch)
  const hasMoved = !present || !hasSameLimits(present, limits)
  const now = new Date()
  // Readings by hand are to the minute: one of this minute counts.
  const sinceAt = new Date(Math.floor(now.getTime() / MINUTE_MS) * MINUTE_MS)
  const data = { ...limits, ...(hasMoved ? { sinceAt } : {}) }
  const key = { workspaceId, zoneId }
  if (present) await tx.zoneWatch.updateMany({ where: key, data: { ...data, version: { increment: 1 } } })
  else await tx.zoneWatch.create({ data: { ...key, ...data } })
  await writeWatchers(tx, workspaceId, { zoneId, watchers: [...new Set(watch.watchers)], now })
  await writeLook(tx, workspaceId, { zoneId, dueAt: isAsked(watch) || present ? now : null })
  await requireLook(tx, workspaceId, zoneId)
}

type Asked = Pick<WatchRow, 'lowC' | 'highC' | 'delayMinutes' | 'silenceMinutes'>

function limitsAsked({ lowC, highC, delayMinutes, silenceMinutes }: RecordWatch): Asked {
  return {
    lowC: lowC ?? null,
    highC: highC ?? null,
    delayMinutes,
    silenceMinutes: silenceMinutes ?? null,
  }
}

function isAsked(watch: RecordWatch): boolean {
  return isWatched({ ...limitsAsked(watch), zoneId: watch.zoneId, sinceAt: new Date(), version: 0 })
}

function hasSameLimits(present: WatchRow, limits: Asked): boolean {
  return (
    present.lowC === limits.lowC &&
    present.highC === limits.highC &&
    present.delayMinutes === limits.delayMinutes &&
    present.silenceMinutes === limits.silenceMinutes
  )
}

function refuseStale(present: WatchRow | undefined): AppError {
  if (!present) return new AppError('stale', 'This zone is not watched yet. Send version 0.')
  const { lowC, highC, delayMinutes, silenceMinutes, version } = present
  return new AppError('stale', 'Someone else changed the watch meanwhile.', {
    present: { lowC, highC, delayMinutes, silenceMinutes, version },
  })
}

async function refuseWatchers(tx: Tx, workspaceId: WorkspaceId, watch: RecordWatch): Promise<void> {
  if (isAsked(watch) && watch.watchers.length === 0)
    throw refuseField('watchers', 'Choose at least one person who is called.')
  const possible = new Set((await listPossibleWatchers(tx, workspaceId)).map(({ personId }) => personId))
  if (watch.watchers.some((personId) => !possible.has(personId)))
    throw refuseUnknown('person who could look after it')
}

type WatcherChange = { zoneId: string; watchers: string[]; now: Date }

async function writeWatchers(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, watchers, now }: WatcherChange,
): Promise<void> {
  await tx.zoneWatcher.updateMany({
    where: { workspaceId, zoneId, endedAt: null, personId: { notIn: watchers } },
    data: { endedAt: now },
  })
  await tx.zoneWatcher.updateMany({
    where: { workspaceId, zoneId, endedAt: { not: null }, personId: { in: watchers } },
    data: { endedAt: null },
  })
  const known = await tx.zoneWatcher.findMany({
    where: { workspaceId, zoneId },
    select: { personId: true },
  })
  const added = watchers.filter((personId) => !known.some((row) => row.personId === personId))
  if (added.length > 0)
    await tx.zoneWatcher.createMany({ data: added.map((personId) => ({ workspaceId, zoneId, personId })) })
}

async function writeLook(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, dueAt }: { zoneId: string; dueAt: Date | null },
): Promise<void> {
  const changed = await tx.watchLook.updateMany({ where: { workspaceId, zoneId }, data: { dueAt } })
  if (changed.count === 0) await tx.watchLook.create({ data: { workspaceId, zoneId, dueAt } })
}
