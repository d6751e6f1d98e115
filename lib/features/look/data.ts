import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type AskedLooks = {
  /** All animals of the workspace where left out. */
  individualIds?: readonly string[]
  /** Only what had been seen by then. */
  asOf?: PlainDate
}

/**
 * The last day on which each animal was looked at, by its id: a recorded look, or a feeding, eaten or refused. A moult
 * is no look here, though whoever noticed it looked: its own day is on the animal's record. Animals nobody ever looked
 * at are missing.
 */
export async function listLastLooks(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individualIds, asOf }: AskedLooks = {},
): Promise<Map<string, PlainDate>> {
  const conditions = conditionsOf({ individualIds, asOf })
  const rows = await tx.$queryRaw<{ individualId: string; on: PlainDate }[]>`
    select x.individual_id as "individualId", max(x."on")::text as "on"
    from (
      select l.individual_id, l."on" from look l
      where l.workspace_id = ${workspaceId}::uuid and l.archived_at is null
      union all
      select f.individual_id, f."on" from feeding f where f.workspace_id = ${workspaceId}::uuid
    ) x where true ${conditions}
    group by x.individual_id`
  return new Map(rows.map(({ individualId, on }) => [individualId, on]))
}

/** Every day since `since` on which each animal was looked at, ascending, by its id. */
export async function listLookDays(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individualIds, since }: { individualIds: readonly string[]; since: PlainDate },
): Promise<Map<string, PlainDate[]>> {
  const rows = await tx.$queryRaw<{ individualId: string; days: PlainDate[] }[]>`
    select x.individual_id as "individualId", json_agg(distinct x."on" order by x."on") as days
    from (
      select l.individual_id, l."on" from look l
      where l.workspace_id = ${workspaceId}::uuid and l.archived_at is null
      union all
      select f.individual_id, f."on" from feeding f where f.workspace_id = ${workspaceId}::uuid
    ) x where x.individual_id = any(${[...individualIds]}::uuid[]) and x."on" >= ${since}::date
    group by x.individual_id`
  return new Map(rows.map(({ individualId, days }) => [individualId, days]))
}

function conditionsOf({ individualIds, asOf }: AskedLooks): Prisma.Sql {
  const conditions = [
    individualIds && Prisma.sql`and x.individual_id = any(${[...individualIds]}::uuid[])`,
    asOf && Prisma.sql`and x."on" <= ${asOf}::date`,
  ].filter((condition) => condition instanceof Prisma.Sql)
  return conditions.length > 0 ? Prisma.join(conditions, ' ') : Prisma.empty
}
