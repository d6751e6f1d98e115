import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { type Price, type PriceSubject, priceOfAnimal } from '@/lib/domain/price/price-list'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type PriceListRow = {
  id: string
  name: string
  proposed: boolean
  version: number
  prices: (Price & { key: string; label: string })[]
}

const ENTRY = {
  key: true,
  kind: true,
  speciesId: true,
  moults: true,
  adult: true,
  sex: true,
  containerKindId: true,
  preySlug: true,
  priceMinor: true,
  species: { select: { scientificName: true } },
  containerKind: { select: { name: true } },
} as const

/** Every list in use with its prices, the proposed one first. */
export async function listPriceLists(tx: Tx, workspaceId: WorkspaceId): Promise<PriceListRow[]> {
  const rows = await tx.priceList.findMany({
    where: { workspaceId, archivedAt: null },
    select: {
      ...{ id: true, name: true, proposed: true, version: true },
      entries: { where: { priceMinor: { not: null } }, select: ENTRY, orderBy: { key: 'asc' } },
    },
    orderBy: [{ proposed: 'desc' }, { name: 'asc' }],
  })
  return rows.map(({ entries, ...list }) => ({
    ...list,
    prices: entries.map(({ species, containerKind, kind, ...entry }) => ({
      ...entry,
      // Written by this feature alone, for those kinds alone.
      kind: kind as PriceSubject['kind'],
      label: species?.scientificName ?? containerKind?.name ?? entry.preySlug ?? '',
    })),
  }))
}

/** @throws AppError not-found */
export async function requirePriceList(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<PriceListRow> {
  const list = (await listPriceLists(tx, workspaceId)).find((each) => each.id === id)
  if (!list) throw refuseUnknown('price list')
  return list
}

/** What the counter proposes: the prices of the list that is chosen for it. */
export async function loadProposedPrices(tx: Tx, workspaceId: WorkspaceId): Promise<Price[]> {
  const rows = await tx.priceEntry.findMany({
    where: {
      workspaceId,
      priceMinor: { not: null },
      list: { workspaceId, proposed: true, archivedAt: null },
    },
    select: ENTRY,
  })
  return rows.map(({ species: _, containerKind: __, kind, ...entry }) => ({
    ...entry,
    kind: kind as PriceSubject['kind'],
  }))
}

export type ForSaleGroup = {
  speciesId: string
  scientificName: string
  moults: number
  isAdult: boolean
  sex: 'male' | 'female' | 'unsexed'
  count: number
}

/** Animals at home that are held for nobody, chosen for no order and in no show box, alike in species, stage and sex, counted. */
export function listFreeAlike(
  tx: Tx,
  workspaceId: WorkspaceId,
  { today }: { today: PlainDate },
): Promise<ForSaleGroup[]> {
  return tx.$queryRaw<ForSaleGroup[]>`
    select s.id as "speciesId", s.scientific_name as "scientificName", a.moults, a.adult as "isAdult", a.sex::text as sex,
      count(*)::int as count
    from (
      select i.species_id, i.sex, i.adult_since_on is not null as adult,
        case when i.adult_since_on is not null then 0 else coalesce((select max(m.number) from moult m
          where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null),
          i.baseline_moults) end as moults
      from individual i
      where i.workspace_id = ${workspaceId}::uuid and i.whereabouts = 'single'
        and not exists (select from reservation r where r.workspace_id = i.workspace_id and r.individual_id = i.id
          and r.ended_on is null and r.until_on >= ${fromPlainDate(today)}::date)
        and not exists (select from order_animal o where o.workspace_id = i.workspace_id and o.individual_id = i.id
          and o.released_on is null)
        and not exists (select from show_box_animal b where b.workspace_id = i.workspace_id and b.individual_id = i.id
          and b."end" is null)
        and not exists (select from housing h join zone z on z.workspace_id = h.workspace_id and z.id = h.zone_id
          where h.workspace_id = i.workspace_id and h.individual_id = i.id and h.until_on is null
            and z.quarantine_until > ${fromPlainDate(today)}::date)) a
    join species s on s.workspace_id = ${workspaceId}::uuid and s.id = a.species_id
    group by s.id, s.scientific_name, a.moults, a.adult, a.sex
    order by s.scientific_name, a.adult, a.moults, a.sex`
}

export type ForSaleRow = ForSaleGroup & { stage: string; priceMinor: number }

/** What is for sale now: animals at home, held for nobody, that the proposed list has a price for. */
export async function loadForSale(tx: Tx, workspace: Workspace): Promise<ForSaleRow[]> {
  const { workspaceId, today } = workspace
  const prices = await loadProposedPrices(tx, workspaceId)
  const groups = await listFreeAlike(tx, workspaceId, { today })
  const naming = instarNamingOf(workspace)
  return groups.flatMap((group) => {
    const priceMinor = priceOfAnimal(prices, group)
    const stage = instarLabel(group.moults, naming, group)
    return priceMinor === null ? [] : [{ ...group, stage, priceMinor }]
  })
}
