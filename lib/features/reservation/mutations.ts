import { addDays } from '@/lib/domain/calendar/date'
import { instantOf } from '@/lib/domain/calendar/instant'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode, parseCode } from '@/lib/domain/label/code'
import { requireOpenBuyer } from '@/lib/features/buyer/data'
import { loadIndividualsByLabel, lockIndividuals, refuseAway } from '@/lib/features/individual/data'
import { listReservations, requireReservation } from '@/lib/features/reservation/data'
import type { CreateReservation, EndReservation, ReservationForm } from '@/lib/features/reservation/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { enqueueHoldEnd } from '@/lib/platform/jobs'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor, Workspace } from '@/lib/platform/workspace'

const HELD_AT_MOST_DAYS = 120

/**
 * Holds animals for a buyer through a day. Whoever sells or holds the same animal at the same moment waits for this one.
 * @throws AppError already-gone for an animal that is not here, already-recorded for one that is held already
 */
export async function createReservation(
  tx: Tx,
  { scope, workspace }: Actor,
  { buyer, individuals, until }: CreateReservation,
): Promise<{ ids: string[] }> {
  const { workspaceId, today, timeZone } = workspace
  if (until < today) throw refuseField('until', 'This day has passed.')
  if (until > addDays(today, HELD_AT_MOST_DAYS))
    throw refuseField('until', `At most ${HELD_AT_MOST_DAYS} days ahead.`)
  await requireOpenBuyer(tx, workspaceId, buyer)
  const animals = await lockIndividuals(tx, workspaceId, individuals)
  for (const animal of animals) refuseAway(animal, today)
  await endPastHolds(tx, workspace, individuals)
  const [held] = await listReservations(tx, workspaceId, { today, individualIds: individuals })
  if (held)
    throw new AppError(
      'already-recorded',
      `${formatCode(held.label)} is held already until ${writeDay(held.until, today)}.`,
      { present: { individual: held.individualId, until: held.until } },
    )
  const made = await tx.reservation.createManyAndReturn({
    data: animals.map(({ id }) => ({
      workspaceId,
      buyerId: buyer,
      individualId: id,
      madeOn: fromPlainDate(today),
      untilOn: fromPlainDate(until),
      madeBy: scope.personId,
    })),
    select: { id: true },
  })
  const dueMs = instantOf(addDays(until, 1), '00:05', timeZone)
  for (const { id } of made) await enqueueHoldEnd(tx, workspaceId, { reservationId: id, dueMs })
  return { ids: made.map(({ id }) => id) }
}

/** The same from labels as they stand on the cups, several with commas between them. */
export async function createReservationByLabels(
  tx: Tx,
  actor: Actor,
  { buyer, labels, until }: ReservationForm,
): Promise<{ ids: string[] }> {
  const typed = labels.split(/[,;\n]+/).map((label) => label.trim())
  const codes = typed.filter(Boolean).map((label) => {
    const parsed = parseCode(label)
    if (parsed.status === 'ok' && parsed.kind === 'individual') return parsed.code
    throw refuseField('labels', `“${label}” is no label of an animal. They look like K7Q 97.`)
  })
  const found = await loadIndividualsByLabel(tx, actor.workspace.workspaceId, codes)
  const missing = codes.find((code) => !found.has(code))
  if (missing) throw refuseField('labels', `No animal here carries ${formatCode(missing)}.`)
  const individuals = [...found.values()].map(({ id }) => id)
  return createReservation(tx, actor, { buyer, individuals, until })
}

async function endPastHolds(
  tx: Tx,
  { workspaceId, today }: Workspace,
  individualIds: readonly string[],
): Promise<void> {
  await tx.reservation.updateMany({
    where: {
      workspaceId,
      individualId: { in: [...individualIds] },
      endedOn: null,
      untilOn: { lt: fromPlainDate(today) },
    },
    data: { endedOn: fromPlainDate(today), end: 'expired', version: { increment: 1 } },
  })
}

/** Lets an animal go free again. @throws AppError stale, already-recorded */
export async function endReservation(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { id, version }: EndReservation,
): Promise<{ id: string }> {
  const known = await requireReservation(tx, workspaceId, id)
  if (known.endedOn !== null) throw new AppError('already-recorded', 'This hold has ended already.')
  const ended = await tx.reservation.updateMany({
    where: { workspaceId, id, version, endedOn: null },
    data: { endedOn: fromPlainDate(today), end: 'released', version: { increment: 1 } },
  })
  if (ended.count === 0) throw new AppError('stale', 'Someone else changed this hold meanwhile.')
  return { id }
}

/** The day of a hold is over: the animal is free again. Done twice it is done once. */
export async function endExpiredHold(
  tx: Tx,
  { workspaceId, today }: Workspace,
  reservationId: string,
): Promise<void> {
  await requireReservation(tx, workspaceId, reservationId)
  await tx.reservation.updateMany({
    where: { workspaceId, id: reservationId, endedOn: null, untilOn: { lt: fromPlainDate(today) } },
    data: { endedOn: fromPlainDate(today), end: 'expired', version: { increment: 1 } },
  })
}
