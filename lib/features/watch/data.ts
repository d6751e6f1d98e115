import { isAllowed, type Role } from '@/lib/domain/role/permissions'
import type { WatchLimits } from '@/lib/domain/zone/crossing'
import type { Tx } from '@/lib/platform/db'
import { enqueueWatchLook } from '@/lib/platform/jobs'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type WatchRow = {
  zoneId: string
  lowC: number | null
  highC: number | null
  delayMinutes: number
  silenceMinutes: number | null
  sinceAt: Date
  version: number
  /** Who is called, among those who still work here. */
  watchers: string[]
}

/** What is watched for, by zone: one statement. */
export async function loadWatches(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, WatchRow>> {
  const rows = await tx.$queryRaw<WatchRow[]>`
    select w.zone_id as "zoneId", w.low_c as "lowC", w.high_c as "highC", w.delay_minutes as "delayMinutes",
      w.silence_minutes as "silenceMinutes", w.since_at as "sinceAt", w.version,
      (select coalesce(json_agg(p.person_id order by p.person_id), '[]')
        from zone_watcher p
        join membership m on m.workspace_id = p.workspace_id and m.person_id = p.person_id
        where p.workspace_id = w.workspace_id and p.zone_id = w.zone_id and p.ended_at is null
          and m.ended_at is null) as watchers
    from zone_watch w where w.workspace_id = ${workspaceId}::uuid`
  return new Map(rows.map((row) => [row.zoneId, row]))
}

/** Undefined where it was never watched. */
export async function loadWatch(
  tx: Tx,
  workspaceId: WorkspaceId,
  zoneId: string,
): Promise<WatchRow | undefined> {
  return (await loadWatches(tx, workspaceId)).get(zoneId)
}

export function isWatched({ lowC, highC, silenceMinutes }: Omit<WatchRow, 'watchers'>): boolean {
  return lowC !== null || highC !== null || silenceMinutes !== null
}

export function limitsOf({ lowC, highC, delayMinutes, silenceMinutes, sinceAt }: WatchRow): WatchLimits {
  return { lowC, highC, delayMinutes, silenceMinutes, sinceMs: sinceAt.getTime() }
}

export type Watcher = { personId: string; displayName: string; email: string; role: Role }

/** Who works here and may take an incident: whoever is called has to be able to. */
export async function listPossibleWatchers(tx: Tx, workspaceId: WorkspaceId): Promise<Watcher[]> {
  const members = await tx.membership.findMany({
    where: { workspaceId, endedAt: null },
    select: { personId: true, displayName: true, email: true, role: true },
    orderBy: [{ displayName: 'asc' }, { personId: 'asc' }],
  })
  return members.filter(({ role }) => isAllowed(role, 'incident:take'))
}

/**
 * Has a zone looked at once this transaction is committed, where it is watched. Its time is brought forward as well, so
 * that the look comes even if the job is lost with the process that had it.
 */
export async function requireLook(tx: Tx, workspaceId: WorkspaceId, zoneId: string): Promise<void> {
  const due = await tx.watchLook.updateMany({
    where: { workspaceId, zoneId, dueAt: { not: null } },
    data: { dueAt: new Date() },
  })
  if (due.count > 0) await enqueueWatchLook(tx, workspaceId, zoneId)
}
