import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
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

const FIELDS = {
  id: true,
  buyerId: true,
  individualId: true,
  madeOn: true,
  untilOn: true,
  endedOn: true,
  version: true,
  buyer: { select: { person: { select: { name: true } } } },
  individual: { select: { label: true, species: { select: { scientificName: true } } } },
} satisfies Prisma.ReservationSelect

/** The holds that count on a day, soonest end first. A hold past its day counts no more, whether or not it was ended yet. */
export async function listReservations(
  tx: Tx,
  workspaceId: WorkspaceId,
  {
    today,
    individualIds,
    buyerId,
  }: { today: PlainDate; individualIds?: readonly string[]; buyerId?: string },
): Promise<ReservationRow[]> {
  const rows = await tx.reservation.findMany({
    where: {
      workspaceId,
      endedOn: null,
      untilOn: { gte: fromPlainDate(today) },
      ...(individualIds ? { individualId: { in: [...individualIds] } } : {}),
      ...(buyerId ? { buyerId } : {}),
    },
    select: FIELDS,
    orderBy: [{ untilOn: 'asc' }, { id: 'asc' }],
    take: 500,
  })
  return rows.map(readRow)
}

/** @throws AppError not-found */
export async function requireReservation(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<ReservationRow> {
  const row = await tx.reservation.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: FIELDS,
  })
  if (!row) throw refuseUnknown('hold')
  return readRow(row)
}

function readRow(row: Prisma.ReservationGetPayload<{ select: typeof FIELDS }>): ReservationRow {
  const { id, buyerId, individualId, version, buyer, individual } = row
  return {
    ...{ id, buyerId, individualId, version },
    buyerName: buyer.person?.name ?? '',
    label: individual.label,
    scientificName: individual.species.scientificName,
    madeOn: toPlainDate(row.madeOn),
    until: toPlainDate(row.untilOn),
    endedOn: row.endedOn && toPlainDate(row.endedOn),
  }
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
