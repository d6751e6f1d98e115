import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
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

/** The kinds of container with what is free and on order, smallest first: one statement, as most forms ask for them. */
export async function listContainerKinds(tx: Tx, workspaceId: WorkspaceId): Promise<ContainerKindRow[]> {
  const kinds = await tx.$queryRaw<Omit<ContainerKindRow, 'free'>[]>`
    select k.id, k.name, k.volume_ml as "volumeMl", k.inner_height_mm as "innerHeightMm",
      k.inner_width_mm as "innerWidthMm", k.single, k.stock, k.version, coalesce(used.containers, 0) as "inUse",
      coalesce(orders.list, '[]') as ordered
    from container_kind k
    left join (
      select x.container_kind_id, count(*)::int as containers from container x
      where x.workspace_id = ${workspaceId}::uuid and x.emptied_on is null
      group by x.container_kind_id) used on used.container_kind_id = k.id
    left join lateral (
      select json_agg(json_build_object('id', o.id, 'count', o.count, 'on', o.expected_on) order by o.expected_on, o.id)
        as list
      from container_kind_order o
      where o.workspace_id = k.workspace_id and o.container_kind_id = k.id and o.arrived_on is null) orders on true
    where k.workspace_id = ${workspaceId}::uuid and k.archived_at is null
    order by k.volume_ml, k.name`
  return kinds.map((kind) => ({ ...kind, free: kind.stock - kind.inUse }))
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
  colony: string | null
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
      colonies: { where: { closedOn: null }, select: { id: true } },
    },
    orderBy: { id: 'asc' },
    take: page.limit + 1,
  })
  const items = rows
    .slice(0, page.limit)
    .map(({ id, single, containerKindId, housing, clutchHousing, colonies }) => ({
      id,
      single,
      containerKind: containerKindId,
      animals: housing.map(({ individual }) => individual),
      clutch: colonies.length > 0 ? null : (clutchHousing[0]?.clutchId ?? null),
      colony: colonies[0]?.id ?? null,
    }))
  return { items, nextCursor: rows.length > page.limit ? (items.at(-1)?.id ?? null) : null }
}
