import type { PlainDate } from '@/lib/domain/calendar/date'
import { travellerOf } from '@/lib/domain/dispatch/from-records'
import { moultsOf } from '@/lib/domain/individual/record'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { priceOfAnimal } from '@/lib/domain/price/price-list'
import { describeForSale } from '@/lib/domain/sale/description'
import { type BoxCheck, checkForBox, type ShowDays } from '@/lib/domain/show-box/choose'
import type { BoxEnd } from '@/lib/domain/show-box/settle'
import { type GrownSpecies, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, requireIndividuals } from '@/lib/features/individual/data'
import { loadProposedPrices } from '@/lib/features/price-list/data'
import type { ShowBoxAnswer } from '@/lib/features/show-box/schema'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type BoxPartRow = {
  number: number
  series: string
  device: string | null
  takenBy: string | null
  heardAt: string | null
  /** receipts of it that have arrived */
  receipts: number
  animals: number
}

/** Something of the stock in a part. Once taken out it is out; what its receipts took counts all the same. */
export type BoxItemRow = {
  number: number
  part: number
  kind: 'egg_case' | 'culture' | 'container' | 'pack'
  subjectId: string
  items: number | null
  description: string
  priceMinor: number
  packed: number
  sold: number
  home: number | null
  isOut: boolean
}

export type ShowBoxRow = {
  id: string
  number: number
  name: string
  packOn: PlainDate
  returnOn: PlainDate
  languages: string[]
  settledOn: PlainDate | null
  version: number
  parts: BoxPartRow[]
  animals: { individualId: string; part: number; end: BoxEnd | null }[]
  items: BoxItemRow[]
}

/** One box, or all of them, newest first; one statement. */
export function listShowBoxes(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id = null, limit = 60 }: { id?: string | null; limit?: number } = {},
): Promise<ShowBoxRow[]> {
  return tx.$queryRaw<ShowBoxRow[]>`
    select b.id, b.number, b.name, b.pack_on::text as "packOn", b.return_on::text as "returnOn", b.languages,
      b.settled_on::text as "settledOn", b.version,
      (select json_agg(json_build_object('number', p.number, 'series', p.series, 'device', p.device,
          'takenBy', m.display_name, 'heardAt', p.heard_at,
          'receipts', (select count(*) from sale s where s.workspace_id = p.workspace_id and s.series = p.series),
          'animals', (select count(*) from show_box_animal a where a.workspace_id = p.workspace_id
            and a.box_id = p.box_id and a.part_number = p.number and a."end" is distinct from 'left_out'))
          order by p.number)
        from show_box_part p
        left join membership m on m.workspace_id = p.workspace_id and m.person_id = p.taken_by
        where p.workspace_id = b.workspace_id and p.box_id = b.id) as parts,
      (select coalesce(json_agg(json_build_object('individualId', a.individual_id, 'part', a.part_number,
          'end', a."end") order by a.part_number, a.individual_id), '[]')
        from show_box_animal a where a.workspace_id = b.workspace_id and a.box_id = b.id) as animals,
      (select coalesce(json_agg(json_build_object('number', i.number, 'part', i.part_number, 'kind', i.kind,
          'subjectId', coalesce(i.egg_case_id::text, i.culture_id::text, i.container_kind_id::text, i.prey_slug),
          'items', i.items, 'description', i.description, 'priceMinor', i.price_minor, 'packed', i.packed,
          'sold', i.sold, 'home', i.home, 'isOut', i.removed_on is not null) order by i.number), '[]')
        from show_box_item i where i.workspace_id = b.workspace_id and i.box_id = b.id) as items
    from show_box b
    where b.workspace_id = ${workspaceId}::uuid and (${id}::uuid is null or b.id = ${id}::uuid)
    order by b.id desc limit ${limit}`
}

/** One box. @throws AppError not-found */
export async function requireShowBox(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ShowBoxRow> {
  const [box] = await listShowBoxes(tx, workspaceId, { id })
  if (!box) throw refuseUnknown('show box')
  return box
}

/** The same, locked until the end of the transaction. @throws AppError stale where somebody else was faster */
export async function lockShowBox(
  tx: Tx,
  workspaceId: WorkspaceId,
  { box: id, version }: { box: string; version: number },
): Promise<ShowBoxRow> {
  await tx.$queryRaw`
    select id from show_box where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for update`
  const box = await requireShowBox(tx, workspaceId, id)
  if (box.version !== version)
    throw new AppError('stale', 'Somebody else changed this box meanwhile.', {
      present: { version: box.version },
    })
  return box
}

/** An animal as a box asks about it. `kind`: those that look alike to a visitor. */
export type BoxedRow = {
  animal: IndividualRow
  species: GrownSpecies | undefined
  kind: string
  description: string
  priceMinor: number | null
  check: BoxCheck
}

/** What is known of animals for the days of a show, in the order asked for. */
export async function loadBoxedAnimals(
  tx: Tx,
  workspace: Workspace,
  { ids, packOn, returnOn }: ShowDays & { ids: readonly string[] },
): Promise<BoxedRow[]> {
  const { workspaceId, today } = workspace
  const animals = await requireIndividuals(tx, workspaceId, ids)
  const listed = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const grown = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
  const prices = await loadProposedPrices(tx, workspaceId)
  const naming = instarNamingOf(workspace)
  return animals.map((animal) => {
    const species = grown.get(animal.speciesId)
    const { speciesId, sex } = animal
    const isAdult = animal.adultSinceOn !== null
    const moults = moultsOf(animal)
    const { profile = null, learned = null } = species ?? {}
    const traveller =
      profile && travellerOf(animal, { profile, learned, naming, zones, today }, { isBeginner: false })
    return {
      animal,
      species,
      kind: `${animal.scientificName} ${isAdult ? 'adult' : moults} ${sex}`,
      description: species ? describeForSale(animal, { species, naming }) : '',
      priceMinor: priceOfAnimal(prices, { speciesId, sex, moults, isAdult }),
      check: traveller
        ? checkForBox(traveller, { packOn, returnOn, today, naming })
        : { chance: 0, why: 'Its instars are not defined, so its next moult cannot be foreseen.' },
    }
  })
}

/** The part a device sells from. @throws AppError not-found */
export async function requireBoxPart(
  tx: Tx,
  workspaceId: WorkspaceId,
  { box, part }: { box: string; part: number },
): Promise<{ series: string; device: string | null; returnOn: Date; packOn: Date }> {
  const found = await tx.showBoxPart.findUnique({
    where: { workspaceId_boxId_number: { workspaceId, boxId: box, number: part } },
    select: { series: true, device: true, box: { select: { packOn: true, returnOn: true } } },
  })
  if (!found) throw refuseUnknown('part of a show box')
  return { series: found.series, device: found.device, ...found.box }
}

/** The last receipt of a series that has arrived; 0 before the first. */
export async function loadSeriesEnd(tx: Tx, workspaceId: WorkspaceId, series: string): Promise<number> {
  const { _max: last } = await tx.sale.aggregate({
    where: { workspaceId, series },
    _max: { receiptNumber: true },
  })
  return last.receiptNumber ?? 0
}

/** Which of these animals are in a box that is open, by animal: the number of the box. */
export async function loadBoxesOfAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualIds: readonly string[],
): Promise<Map<string, number>> {
  const rows = await tx.showBoxAnimal.findMany({
    where: { workspaceId, individualId: { in: [...individualIds] }, end: null },
    select: { individualId: true, box: { select: { number: true } } },
  })
  return new Map(rows.map(({ individualId, box }) => [individualId, box.number]))
}

/** Counts the version of a locked box on; answers the new one. */
export async function takeBoxOn(tx: Tx, workspaceId: WorkspaceId, box: ShowBoxRow): Promise<number> {
  await tx.showBox.updateMany({
    where: { workspaceId, id: box.id },
    data: { version: { increment: 1 } },
  })
  return box.version + 1
}

/** What the API shows of a box. */
export function presentShowBox(box: ShowBoxRow, { currency }: Workspace): ShowBoxAnswer {
  const { id, number, name, packOn, returnOn, languages, settledOn, version } = box
  return {
    ...{ id, number, name, packOn, returnOn, languages, settledOn, version },
    parts: box.parts.map(({ device, receipts, ...part }) => ({
      ...{ number: part.number, series: part.series, isTaken: device !== null, receipts },
    })),
    animals: box.animals.map(({ individualId, part, end }) => ({ individual: individualId, part, end })),
    items: box.items.map(({ subjectId: _, items: __, priceMinor, ...item }) => ({
      ...item,
      price: { amount: priceMinor, currency },
    })),
  }
}
