import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
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

/**
 * One kind of container.
 * @throws AppError not-found
 */
export async function requireContainerKind(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<ContainerKindRow> {
  const kind = (await listContainerKinds(tx, workspaceId)).find((row) => row.id === id)
  if (!kind) throw refuseUnknown('kind of container')
  return kind
}

export type ContainerRow = {
  id: string
  containerKind: string
  single: boolean
  animals: { id: string; label: string }[]
  clutch: string | null
}

/** Containers in use in the order in which they were taken, a page at a time. */
export async function listContainers(
  tx: Tx,
  workspaceId: WorkspaceId,
  page: { limit: number; cursor?: string },
): Promise<{ items: ContainerRow[]; nextCursor: string | null }> {
  const rows = await tx.container.findMany({
    where: { workspaceId, emptiedOn: null, ...(page.cursor ? { id: { gt: page.cursor } } : {}) },
    select: {
      id: true,
      single: true,
      containerKindId: true,
      housing: { where: { untilOn: null }, select: { individual: { select: { id: true, label: true } } } },
      clutchHousing: { where: { untilOn: null }, select: { clutchId: true } },
    },
    orderBy: { id: 'asc' },
    take: page.limit + 1,
  })
  const items = rows.slice(0, page.limit).map(({ id, single, containerKindId, housing, clutchHousing }) => ({
    id,
    single,
    containerKind: containerKindId,
    animals: housing.map(({ individual }) => individual),
    clutch: clutchHousing[0]?.clutchId ?? null,
  }))
  return { items, nextCursor: rows.length > page.limit ? (items.at(-1)?.id ?? null) : null }
}
