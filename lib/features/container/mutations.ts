import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type {
  ArchiveContainerKind,
  CreateContainerKind,
  CreateContainerOrder,
  RecordArrival,
  UpdateContainerKind,
} from '@/lib/features/container/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export async function createContainerKind(
  tx: Tx,
  workspace: Workspace,
  kind: CreateContainerKind,
): Promise<{ id: string }> {
  const { workspaceId } = workspace
  const { ordered = [], ...measures } = kind
  for (const [index, order] of ordered.entries())
    checkExpected(order.on, workspace.today, `ordered.${index}.on`)
  const made = await tx.containerKind.create({ data: { workspaceId, ...measures }, select: { id: true } })
  if (ordered.length > 0)
    await tx.containerKindOrder.createMany({
      data: ordered.map(({ count, on }) => ({
        workspaceId,
        containerKindId: made.id,
        count,
        expectedOn: fromPlainDate(on),
      })),
    })
  return made
}

/** A new name, or what a recount of the shelf gave. @throws AppError stale */
export async function updateContainerKind(
  tx: Tx,
  workspaceId: WorkspaceId,
  kind: UpdateContainerKind,
): Promise<void> {
  const { id, version, name, stock } = kind
  const changed = await tx.containerKind.updateMany({
    where: { workspaceId, id, version, archivedAt: null },
    data: { name, stock, version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId, id)
}

export async function createContainerOrder(
  tx: Tx,
  workspace: Workspace,
  order: CreateContainerOrder,
): Promise<{ id: string }> {
  const { workspaceId, today } = workspace
  checkExpected(order.on, today, 'on')
  const kind = await tx.containerKind.findFirst({
    where: { workspaceId, id: order.kindId, archivedAt: null },
    select: { id: true },
  })
  if (!kind) throw refuseUnknown('kind of container')
  return tx.containerKindOrder.create({
    data: {
      workspaceId,
      containerKindId: kind.id,
      count: order.count,
      expectedOn: fromPlainDate(order.on),
    },
    select: { id: true },
  })
}

/**
 * What was ordered has come and is counted as stock, once.
 * @throws AppError already-recorded when it was recorded before
 */
export async function recordArrival(tx: Tx, workspace: Workspace, arrival: RecordArrival): Promise<void> {
  const { workspaceId, today } = workspace
  const on = arrival.on ?? today
  if (on > today) throw refuseField('on', 'is in the future')
  const arrived = await tx.containerKindOrder.updateMany({
    where: { workspaceId, id: arrival.orderId, arrivedOn: null },
    data: { arrivedOn: fromPlainDate(on) },
  })
  const order = await tx.containerKindOrder.findUnique({
    where: { workspaceId_id: { workspaceId, id: arrival.orderId } },
    select: { containerKindId: true, count: true },
  })
  if (!order) throw refuseUnknown('order')
  if (arrived.count === 0) throw new AppError('already-recorded', 'These containers have already arrived.')
  await tx.containerKind.update({
    where: { workspaceId_id: { workspaceId, id: order.containerKindId } },
    data: { stock: { increment: order.count }, version: { increment: 1 } },
  })
}

/** @throws AppError invalid while containers of the kind are in use */
export async function archiveContainerKind(
  tx: Tx,
  workspaceId: WorkspaceId,
  kind: ArchiveContainerKind,
): Promise<void> {
  const inUse = await tx.container.count({
    where: { workspaceId, containerKindId: kind.id, emptiedOn: null },
  })
  if (inUse > 0) throw new AppError('invalid', `${inUse} of them are in use. Empty them first.`)
  const changed = await tx.containerKind.updateMany({
    where: { workspaceId, id: kind.id, version: kind.version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId, kind.id)
}

const EXPECTED_WITHIN_DAYS = 730

function checkExpected(on: PlainDate, today: PlainDate, path: string): void {
  if (on > addDays(today, EXPECTED_WITHIN_DAYS)) throw refuseField(path, 'is more than two years ahead')
  if (on < addDays(today, -EXPECTED_WITHIN_DAYS)) throw refuseField(path, 'is more than two years ago')
}

async function refuseStale(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<AppError> {
  const present = await tx.containerKind.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: { name: true, stock: true, version: true, archivedAt: true },
  })
  if (!present) return refuseUnknown('kind of container')
  if (present.archivedAt) return new AppError('stale', 'This kind has been put out of use meanwhile.')
  const { name, stock, version } = present
  return new AppError('stale', 'Someone else changed this kind meanwhile.', {
    present: { name, stock, version },
  })
}
