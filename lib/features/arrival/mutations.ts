import { instantOf } from '@/lib/domain/calendar/instant'
import type { Arrival, ClaimEnding } from '@/lib/features/arrival/schema'
import { endAddressLater } from '@/lib/features/dispatch/data'
import { lockOrder, type OrderRow, refuseStaleOrder, takeOrderOn } from '@/lib/features/order/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned } from '@/lib/platform/warned'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** How it arrived, animal by animal. @throws AppError invalid, already-recorded */
export async function recordArrival(
  tx: Tx,
  workspace: Workspace,
  arrival: Omit<Arrival, 'version'> & { version?: number },
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today, timeZone } = workspace
  const order = await lockOrder(tx, workspaceId, arrival.order)
  refuseStaleOrder(order, arrival.version)
  if (order.leftOn === null) throw new AppError('invalid', 'This order has not left yet.')
  if (order.way === 'collected') throw new AppError('invalid', 'This order was handed over here.')
  if (order.arrivedAt !== null)
    throw new AppError('already-recorded', 'How this order arrived is on record already.')
  const { on, at, reportedOn = on, reportedAt = at } = arrival
  refuseFuture('on', on, today)
  refuseFuture('reportedOn', reportedOn, today)
  if (on < order.leftOn) throw refuseField('on', 'This is before it left.')
  const arrivedMs = instantOf(on, at, timeZone)
  const reportedMs = instantOf(reportedOn, reportedAt, timeZone)
  if (reportedMs < arrivedMs) throw refuseField('reportedOn', 'This is before the arrival.')
  await recordStates(tx, workspaceId, { order, named: arrival.animals })
  const data = {
    arrivedAt: new Date(arrivedMs),
    reportedAt: new Date(reportedMs),
    photographs: arrival.photographs,
    arrivalNote: arrival.note,
  }
  await takeOrderOn(tx, workspaceId, { id: order.id, data })
  await endAddressLater(tx, workspace, { order, since: on })
  return { value: { id: order.id }, warnings: [] }
}

/** Whoever is not named arrived alive. */
async function recordStates(
  tx: Tx,
  workspaceId: WorkspaceId,
  { order, named }: { order: OrderRow; named: Arrival['animals'] },
): Promise<void> {
  const all = order.lines.flatMap(({ chosen }) => chosen.map(({ id }) => id))
  const stranger = named.find(({ individual }) => !all.includes(individual))
  if (stranger) throw refuseField('animals', 'One of them did not travel with this order.')
  const of = (as: Arrival['animals'][number]['as']) =>
    named.filter((one) => one.as === as).map(({ individual }) => individual)
  const [hurt, dead] = [of('hurt'), of('dead')]
  const alive = all.filter((id) => !hurt.includes(id) && !dead.includes(id))
  for (const [arrived, ids] of [
    ['alive', alive],
    ['hurt', hurt],
    ['dead', dead],
  ] as const)
    if (ids.length > 0)
      await tx.orderAnimal.updateMany({
        where: { workspaceId, orderId: order.id, releasedOn: null, individualId: { in: ids } },
        data: { arrived },
      })
}

/** What came of a loss on the way. */
export async function recordClaimEnd(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { order: id, version, end, note }: ClaimEnding,
): Promise<Warned<{ id: string }>> {
  const order = await lockOrder(tx, workspaceId, id)
  refuseStaleOrder(order, version)
  if (order.arrivedAt === null) throw new AppError('invalid', 'How it arrived is not on record yet.')
  const data = { claimEnd: end, claimEndOn: fromPlainDate(today), claimNote: note }
  await takeOrderOn(tx, workspaceId, { id, data })
  return { value: { id }, warnings: [] }
}
