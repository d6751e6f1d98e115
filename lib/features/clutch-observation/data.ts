import type { PlainDate } from '@/lib/domain/calendar/date'
import type { ClutchSighting } from '@/lib/domain/separation/sighting'
import type { Tx } from '@/lib/platform/db'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type ClutchObservationRow = ClutchSighting & {
  id: string
  clutchId: string
  note: string
  version: number
  seenBy: string | null
}

/** What was seen of clutches, earliest first: of some, or of all, and by a day where one is named. */
export async function listClutchObservations(
  tx: Tx,
  workspaceId: WorkspaceId,
  { clutchIds, asOf }: { clutchIds?: readonly string[]; asOf?: PlainDate } = {},
): Promise<ClutchObservationRow[]> {
  const conditions = [
    clutchIds && Prisma.sql`and o.clutch_id = any(${[...clutchIds]}::uuid[])`,
    asOf && Prisma.sql`and o."on" <= ${asOf}::date`,
  ].filter((condition) => condition instanceof Prisma.Sql)
  return tx.$queryRaw<ClutchObservationRow[]>`
    select o.id, o.clutch_id as "clutchId", o."on"::text as "on", o.moulted::text as moulted, o.number,
      o.size_gap as "sizeGap", o.hunger, o.hanging, o.wing_buds as "wingBuds", o.refuses_food as "refusesFood", o.note, o.version, m.display_name as "seenBy"
    from clutch_observation o
    left join membership m on m.workspace_id = o.workspace_id and m.person_id = o.seen_by
    where o.workspace_id = ${workspaceId}::uuid and o.archived_at is null
      ${conditions.length > 0 ? Prisma.join(conditions, ' ') : Prisma.empty}
    order by o."on", o.id`
}

export type HangingSeen = {
  clutchId: string
  on: PlainDate
  moults: number
  count: number
  seenBy: string | null
}

/** How many hang by what was last said at the bench on a day, on whatever device; nobody where nothing was. */
export async function countHanging(
  tx: Tx,
  workspaceId: WorkspaceId,
  { clutchId, on }: { clutchId: string; on: PlainDate },
): Promise<number> {
  const said = await tx.clutchObservation.findFirst({
    where: { workspaceId, ...saidAtBench({ clutchId, on }) },
    orderBy: { id: 'desc' },
    select: { hanging: true },
  })
  return said?.hanging ?? 0
}

const saidAtBench = ({ clutchId, on }: { clutchId: string; on: PlainDate }) => ({
  clutchId,
  on: fromPlainDate(on),
  moulted: null,
  archivedAt: null,
})

/**
 * How many hang for their next moult at the end of a run at the bench. There is one count for a clutch and a day, which
 * every device begins with: whoever counts again has counted better, and none is as if nobody had.
 */
export async function openHanging(tx: Tx, workspaceId: WorkspaceId, seen: HangingSeen): Promise<void> {
  const { clutchId, seenBy, moults, count } = seen
  const on = fromPlainDate(seen.on)
  await tx.clutchObservation.updateMany({
    where: { workspaceId, ...saidAtBench(seen) },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (count === 0) return
  await tx.clutchObservation.create({
    data: { workspaceId, clutchId, on, number: moults + 1, hanging: count, seenBy },
  })
}
