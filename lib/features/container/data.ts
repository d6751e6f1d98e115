import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { toPlainDate } from '@/lib/platform/plain-date'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type ContainerKindRow = {
  id: string
  name: string
  volumeMl: number
  innerHeightMm: number
  innerWidthMm: number
  single: boolean
  stock: number
  version: number
  inUse: number
  /** stock less those in use; below zero where more are in use than were ever counted */
  free: number
  ordered: { id: string; count: number; on: PlainDate }[]
}

/** The kinds of container with what is free and on order, smallest first. */
export async function listContainerKinds(tx: Tx, workspaceId: WorkspaceId): Promise<ContainerKindRow[]> {
  const kinds = await tx.containerKind.findMany({
    where: { workspaceId, archivedAt: null },
    include: { orders: { where: { arrivedOn: null }, orderBy: { expectedOn: 'asc' } } },
    orderBy: [{ volumeMl: 'asc' }, { name: 'asc' }],
  })
  const used = await tx.container.groupBy({
    by: ['containerKindId'],
    where: { workspaceId, emptiedOn: null },
    _count: { _all: true },
  })
  const inUse = new Map(used.map((row) => [row.containerKindId, row._count._all]))
  return kinds.map(({ orders, id, name, volumeMl, innerHeightMm, innerWidthMm, single, stock, version }) => ({
    id,
    name,
    volumeMl,
    innerHeightMm,
    innerWidthMm,
    single,
    stock,
    version,
    inUse: inUse.get(id) ?? 0,
    free: stock - (inUse.get(id) ?? 0),
    ordered: orders.map((order) => ({ id: order.id, count: order.count, on: toPlainDate(order.expectedOn) })),
  }))
}
