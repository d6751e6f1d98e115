import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type ReservationRow = {
  id: string
  buyerId: string
  buyerName: string
  individualId: string
  label: string
  scientificName: string
  madeOn: PlainDate
  until: PlainDate
  endedOn: PlainDate | null
  version: number
}

export type HoldQuestion = { today: PlainDate; individualIds?: readonly string[]; buyerId?: string }

/** The holds that count on a day, soonest end first. A hold past its day counts no more, whether or not it was ended yet. */
export function listReservations(
  tx: Tx,
  workspaceId: WorkspaceId,
  { today, individualIds, buyerId }: HoldQuestion,
): Promise<ReservationRow[]> {
  const conditions = [
    Prisma.sql`and r.ended_on is null and r.until_on >= ${today}::date`,
    individualIds && Prisma.sql`and r.individual_id = any(${[...individualIds]}::uuid[])`,
    buyerId && Prisma.sql`and r.buyer_id = ${buyerId}::uuid`,
  ].filter((condition) => condition instanceof Prisma.Sql)
  return selectReservations(tx, workspaceId, Prisma.join(conditions, ' '))
}

/** Every hold there ever was for a buyer, and how it ended. */
export function listReservationsOfBuyer(
  tx: Tx,
  workspaceId: WorkspaceId,
  buyerId: string,
): Promise<(Omit<ReservationRow, 'buyerId' | 'buyerName' | 'version'> & { end: string | null })[]> {
  return tx.$queryRaw`
    select r.id, r.individual_id as "individualId", i.label, s.scientific_name as "scientificName",
      r.made_on::text as "madeOn", r.until_on::text as until, r.ended_on::text as "endedOn", r."end"::text as "end"
    from reservation r
    join individual i on i.workspace_id = r.workspace_id and i.id = r.individual_id
    join species s on s.workspace_id = i.workspace_id and s.id = i.species_id
    where r.workspace_id = ${workspaceId}::uuid and r.buyer_id = ${buyerId}::uuid
    order by r.id`
}

/** @throws AppError not-found */
export async function requireReservation(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<ReservationRow> {
  const [row] = await selectReservations(tx, workspaceId, Prisma.sql`and r.id = ${id}::uuid`)
  if (!row) throw refuseUnknown('hold')
  return row
}

/** One statement, as the counter asks with every cup. */
function selectReservations(tx: Tx, workspaceId: WorkspaceId, where: Prisma.Sql): Promise<ReservationRow[]> {
  return tx.$queryRaw<ReservationRow[]>`
    select r.id, r.buyer_id as "buyerId", coalesce(n.name, '') as "buyerName", r.individual_id as "individualId",
      i.label, s.scientific_name as "scientificName", r.made_on::text as "madeOn", r.until_on::text as until,
      r.ended_on::text as "endedOn", r.version
    from reservation r
    join individual i on i.workspace_id = r.workspace_id and i.id = r.individual_id
    join species s on s.workspace_id = i.workspace_id and s.id = i.species_id
    left join buyer_person n on n.workspace_id = r.workspace_id and n.buyer_id = r.buyer_id
    where r.workspace_id = ${workspaceId}::uuid ${where}
    order by r.until_on, r.id limit 500`
}

/** Holds of animals that were just sold end: as sold to whom they were held for, or as overtaken. */
export async function endHoldsOfSold(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individualIds, buyerId, on }: { individualIds: readonly string[]; buyerId: string | null; on: PlainDate },
): Promise<void> {
  const open = { workspaceId, individualId: { in: [...individualIds] }, endedOn: null }
  const ended = { endedOn: fromPlainDate(on), version: { increment: 1 } }
  if (buyerId !== null)
    await tx.reservation.updateMany({
      where: { ...open, buyerId, madeOn: { lte: fromPlainDate(on) } },
      data: { ...ended, end: 'sold' },
    })
  await tx.reservation.updateMany({
    where: { ...open, madeOn: { lte: fromPlainDate(on) } },
    data: { ...ended, end: 'overtaken' },
  })
}
