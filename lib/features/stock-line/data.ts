import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import { countLot, writeLot } from '@/lib/domain/sale/lot'
import type { SoldFacts } from '@/lib/domain/sale/sold-facts'
import { type KnownZone, staysAsOf } from '@/lib/domain/zone/history'
import { incidentWarning } from '@/lib/domain/zone/incident'
import { sayQuarantine } from '@/lib/domain/zone/quarantine'
import { listClutches, lockClutch, raiseNeeded } from '@/lib/features/clutch/data'
import { requireCulture } from '@/lib/features/culture/data'
import { requireEggCase } from '@/lib/features/egg-case/data'
import { requireStoredLine } from '@/lib/features/prey/data'
import { requireSpecies } from '@/lib/features/species/data'
import type { SaleLineKind, StockSubject } from '@/lib/features/stock-line/schema'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Warning } from '@/lib/platform/warned'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

/** What a line of a receipt says of the stock it took, and which rows it names. */
export type TakenStock = {
  description: string
  quantity: number
  warnings: Warning[]
  /** the same without words of a language; left out of what has none */
  facts?: SoldFacts
  columns: Pick<
    Prisma.SaleLineCreateManyInput,
    | 'clutchId'
    | 'eggCaseId'
    | 'cultureId'
    | 'containerKindId'
    | 'preySlug'
    | 'entryId'
    | 'males'
    | 'females'
    | 'unsexed'
  >
}

/** `at`: where the subject stands in what was sent, so that a mistake is said there. */
export type StockTaking = { subject: StockSubject; on: PlainDate; at: string }

/**
 * Takes something out of the stock because it is sold: siblings out of the ledger, a jar or an egg case off its shelf,
 * containers and food out of their counts.
 * @throws AppError more-than-left, already-gone; invalid at the field for what cannot be true
 */
export function takeStock(tx: Tx, actor: Actor, taking: StockTaking): Promise<TakenStock> {
  const { subject, on, at } = taking
  switch (subject.kind) {
    case 'lot':
      return takeLot(tx, actor, { subject, on, at })
    case 'egg_case':
      return takeEggCase(tx, actor, { id: subject.eggCase, on, at })
    case 'culture':
      return takeCulture(tx, actor, { id: subject.culture, on, at })
    case 'container':
      return takeContainers(tx, actor.workspace.workspaceId, subject)
    case 'pack':
      return takePacks(tx, actor.workspace.workspaceId, { subject, on })
    case 'other':
      return Promise.resolve(plain(subject.description, subject.quantity))
  }
}

function plain(description: string, quantity: number): TakenStock {
  return { description, quantity, warnings: [], columns: {} }
}

type Named<S> = { subject: S; on: PlainDate; at: string }
type OneTaken = { id: string; on: PlainDate; at: string }

async function takeLot(
  tx: Tx,
  { scope, workspace }: Actor,
  { subject, on, at }: Named<Extract<StockSubject, { kind: 'lot' }>>,
): Promise<TakenStock> {
  const { workspaceId, today } = workspace
  const count = countLot(subject)
  if (count === 0) throw refuseField(at, 'A lot of nobody: enter how many.')
  const clutch = await lockClutch(tx, workspaceId, subject.clutch)
  if (on < clutch.hatchedOn)
    throw refuseField('on', `${clutch.label} hatched on ${writeDay(clutch.hatchedOn, today)}.`)
  const raise = raiseNeeded(clutch, count)
  const shared = { workspaceId, clutchId: clutch.id, on: fromPlainDate(on), recordedBy: scope.personId }
  if (raise > 0)
    await tx.headCountEntry.create({
      data: { ...shared, from: 'uncounted', to: 'together', count: raise, note: 'more than "about"' },
    })
  const entry = await tx.headCountEntry.create({
    data: { ...shared, from: 'together', to: 'sold', count },
    select: { id: true },
  })
  const species = await requireSpecies(tx, workspaceId, clutch.speciesId)
  const [row] = await listClutches(tx, workspaceId, { ids: [clutch.id], limit: 1 })
  const zoneId = staysAsOf(row?.stays ?? [], on).at(-1)?.zoneId
  const { males, females, unsexed } = subject
  return {
    description: `${species.scientificName}, lot ${writeLot(subject)}, hatched ${writeDay(clutch.hatchedOn)}`,
    quantity: count,
    warnings: await warnOfZone(tx, workspaceId, { zoneId, today: on }),
    facts: {
      ...{ kind: 'lot', scientificName: species.scientificName, lot: writeLot(subject) },
      hatchedOn: clutch.hatchedOn,
    },
    columns: { clutchId: clutch.id, entryId: entry.id, males, females, unsexed },
  }
}

async function warnOfZone(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, today }: { zoneId: string | undefined; today: PlainDate },
): Promise<Warning[]> {
  const zone: KnownZone | undefined = (await loadZonesById(tx, workspaceId)).get(zoneId ?? '')
  const quarantine = sayQuarantine(zone?.quarantineUntil, today)
  const incident = incidentWarning(zone?.incidents ?? [], today)
  return [
    ...(quarantine ? [{ code: 'quarantine', message: `Its zone is ${quarantine}.` }] : []),
    ...(incident ? [{ code: 'zone-incident', message: incident }] : []),
  ]
}

async function takeEggCase(tx: Tx, { workspace }: Actor, { id, on, at }: OneTaken): Promise<TakenStock> {
  const { workspaceId, today } = workspace
  const row = await requireEggCase(tx, workspaceId, id)
  const last = row.hatches.at(-1)?.on ?? row.receivedOn ?? row.laidOn ?? row.laidFrom
  if (last && on < last) throw refuseField(at, `This is before ${writeDay(last, today)}, the last on record.`)
  const ended = await tx.eggCase.updateMany({
    where: { workspaceId, id, endedOn: null },
    data: { endedOn: fromPlainDate(on), end: 'sold', version: { increment: 1 } },
  })
  if (ended.count === 0)
    throw new AppError('already-gone', `${row.label} is not here any more.`, {
      present: { eggCase: id, label: row.label, end: row.end },
    })
  const { scientificName } = await requireSpecies(tx, workspaceId, row.speciesId)
  const laid = row.laidOn ? `, laid ${writeDay(row.laidOn)}` : ''
  const hatched = row.hatches.length > 0
  return {
    description: `Egg case of ${scientificName}, ${row.label}${laid}`,
    quantity: 1,
    warnings: [
      ...(hatched
        ? [{ code: 'already-hatched', message: `${row.label} has hatched already: tell the buyer.` }]
        : []),
      ...(await warnOfZone(tx, workspaceId, { zoneId: row.stays.at(-1)?.zoneId, today: on })),
    ],
    facts: { kind: 'egg_case', scientificName, label: row.label, laidOn: row.laidOn },
    columns: { eggCaseId: id },
  }
}

async function takeCulture(tx: Tx, { workspace }: Actor, { id, on, at }: OneTaken): Promise<TakenStock> {
  const { workspaceId, today } = workspace
  const jar = await requireCulture(tx, workspaceId, id)
  const last = jar.harvests.at(-1)?.on ?? jar.startedOn
  if (on < last) throw refuseField(at, `This is before ${writeDay(last, today)}, the last on record.`)
  const ended = await tx.culture.updateMany({
    where: { workspaceId, id, endedOn: null },
    data: { endedOn: fromPlainDate(on), end: 'sold', version: { increment: 1 } },
  })
  if (ended.count === 0)
    throw new AppError('already-gone', `${jar.label} is not on the shelf any more.`, {
      present: { culture: id, label: jar.label, end: jar.end },
    })
  const { line } = await requireStoredLine(tx, workspaceId, jar.line)
  const seen = { mites: jar.mitesOn, mould: jar.mouldOn, 'a crash': jar.crashedOn }
  const marks = Object.entries(seen).flatMap(([what, day]) =>
    day ? [`${what} on ${writeDay(day, today)}`] : [],
  )
  return {
    description: `${line.name}, culture ${jar.label}, started ${writeDay(jar.startedOn)}`,
    quantity: 1,
    warnings:
      marks.length > 0
        ? [{ code: 'suspect-sold', message: `${jar.label} is marked: ${marks.join(', ')}. Tell the buyer.` }]
        : [],
    facts: { kind: 'culture', line: line.id, name: line.name, label: jar.label, startedOn: jar.startedOn },
    columns: { cultureId: id },
  }
}

async function takeContainers(
  tx: Tx,
  workspaceId: WorkspaceId,
  { containerKind, quantity }: Extract<StockSubject, { kind: 'container' }>,
): Promise<TakenStock> {
  const rows = await tx.$queryRaw<{ name: string; free: number; archived: boolean }[]>`
    with locked as (
      select workspace_id, id, name, stock, archived_at from container_kind
      where workspace_id = ${workspaceId}::uuid and id = ${containerKind}::uuid for update)
    select name, archived_at is not null as archived, (stock - (select count(*) from container x
      where x.workspace_id = locked.workspace_id and x.container_kind_id = locked.id and x.emptied_on is null))::int as free
    from locked`
  const kind = rows[0]
  if (!kind || kind.archived) throw refuseUnknown('kind of container')
  if (kind.free < quantity)
    throw new AppError(
      'more-than-left',
      `Only ${Math.max(0, kind.free)} of “${kind.name}” are free by the records. Recount them if that is wrong.`,
      { present: { containerKind, free: kind.free } },
    )
  await tx.containerKind.updateMany({
    where: { workspaceId, id: containerKind },
    data: { stock: { decrement: quantity }, version: { increment: 1 } },
  })
  return { ...plain(kind.name, quantity), columns: { containerKindId: containerKind } }
}

async function takePacks(
  tx: Tx,
  workspaceId: WorkspaceId,
  { subject, on }: { subject: Extract<StockSubject, { kind: 'pack' }>; on: PlainDate },
): Promise<TakenStock> {
  const { line } = await requireStoredLine(tx, workspaceId, subject.line)
  const { quantity, items } = subject
  await tx.preyDeparture.create({
    data: { workspaceId, slug: line.id, on: fromPlainDate(on), count: quantity * items, how: 'sold' },
  })
  return {
    ...plain(`${line.name}, ${items} a pack`, quantity),
    facts: { kind: 'pack', line: line.id, name: line.name, items },
    columns: { preySlug: line.id },
  }
}

/** A line some of which came back. */
export type ReturnedStock = {
  kind: SaleLineKind
  quantity: number
  clutchId: string | null
  eggCaseId: string | null
  containerKindId: string | null
}

/**
 * Puts what came back into the stock, where that can be said of it. Live food that was away may carry mites: it does
 * not go back onto the shelf. Answers whether it went back.
 */
export async function takeBackStock(
  tx: Tx,
  { scope, workspace }: Actor,
  { line, on, reason }: { line: ReturnedStock; on: PlainDate; reason: string },
): Promise<boolean> {
  const { workspaceId } = workspace
  if (line.kind === 'lot' && line.clutchId) {
    await tx.headCountEntry.create({
      data: {
        workspaceId,
        clutchId: line.clutchId,
        from: 'sold',
        to: 'together',
        count: line.quantity,
        on: fromPlainDate(on),
        note: reason,
        recordedBy: scope.personId,
      },
    })
    return true
  }
  if (line.kind === 'egg_case' && line.eggCaseId) {
    await tx.eggCase.updateMany({
      where: { workspaceId, id: line.eggCaseId, end: 'sold' },
      data: { endedOn: null, end: null, version: { increment: 1 } },
    })
    return true
  }
  if (line.kind === 'container' && line.containerKindId) {
    await tx.containerKind.updateMany({
      where: { workspaceId, id: line.containerKindId },
      data: { stock: { increment: line.quantity }, version: { increment: 1 } },
    })
    return true
  }
  return false
}

/** Something that can be put on the counter besides a single animal, and how much of it is there. */
export type StockChoice = {
  kind: Exclude<SaleLineKind, 'animal' | 'other'>
  id: string
  label: string
  left: number
  speciesId: string | null
  /** of a lot or an egg case: until when its zone is in quarantine */
  quarantineUntil: PlainDate | null
}

/** Everything of the stock that may be sold, in one statement. */
export function listStockChoices(tx: Tx, workspaceId: WorkspaceId): Promise<StockChoice[]> {
  return tx.$queryRaw<StockChoice[]>`
    select 'lot' as kind, c.id::text as id, c.label || ', ' || s.scientific_name as label, h.together as "left",
      c.species_id::text as "speciesId", z.quarantine_until::text as "quarantineUntil"
    from clutch c
    join head_count h on h.workspace_id = c.workspace_id and h.clutch_id = c.id
    join species s on s.workspace_id = c.workspace_id and s.id = c.species_id
    left join clutch_housing y on y.workspace_id = c.workspace_id and y.clutch_id = c.id and y.until_on is null
    left join zone z on z.workspace_id = y.workspace_id and z.id = y.zone_id
    where c.workspace_id = ${workspaceId}::uuid and h.together > 0
    union all
    select 'egg_case', e.id::text, e.label || ', ' || s.scientific_name, 1, e.species_id::text, z.quarantine_until::text
    from egg_case e join species s on s.workspace_id = e.workspace_id and s.id = e.species_id
    left join egg_case_stay y on y.workspace_id = e.workspace_id and y.egg_case_id = e.id and y.until_on is null
    left join zone z on z.workspace_id = y.workspace_id and z.id = y.zone_id
    where e.workspace_id = ${workspaceId}::uuid and e.ended_on is null
    union all
    select 'culture', c.id::text, c.label || ', ' || c.slug, 1, null, null
    from culture c where c.workspace_id = ${workspaceId}::uuid and c.ended_on is null
    union all
    select 'container', k.id::text, k.name, (k.stock - (select count(*) from container x
      where x.workspace_id = k.workspace_id and x.container_kind_id = k.id and x.emptied_on is null))::int, null, null
    from container_kind k where k.workspace_id = ${workspaceId}::uuid and k.archived_at is null
    union all
    select 'pack', l.slug, l.slug, 0, null, null
    from prey_line l where l.workspace_id = ${workspaceId}::uuid and l.kept
    order by kind, label limit 2000`
}

const PREY_NAMES = new Map(DEFAULT_PREY_LINES.map(({ id, name }) => [id, name]))

/** The same by their names, with the common lines of food: those are sold without having been kept here before. */
export async function listSellableStock(tx: Tx, workspaceId: WorkspaceId): Promise<StockChoice[]> {
  const choices = await listStockChoices(tx, workspaceId)
  const known = new Set(choices.filter(({ kind }) => kind === 'pack').map(({ id }) => id))
  const common = [...PREY_NAMES].filter(([id]) => !known.has(id))
  const packs = common.map(([id, label]) => ({
    kind: 'pack' as const,
    id,
    label,
    left: 0,
    speciesId: null,
    quarantineUntil: null,
  }))
  return [...choices, ...packs].map(nameOfPrey)
}

const ITEM_WORDS = {
  egg_case: 'Egg case',
  culture: 'Culture',
  container: 'Container',
  pack: 'Live food in packs',
} as const
export type ItemChoice = { value: string; label: string }

/** What can be promised or packed by its kind and id, `kind~id`; siblings go as single animals. */
export async function listItemChoices(tx: Tx, workspaceId: WorkspaceId): Promise<ItemChoice[]> {
  const choices = await listSellableStock(tx, workspaceId)
  return choices.flatMap(({ kind, id, label, left }) => {
    if (kind === 'lot' || (left <= 0 && kind !== 'pack')) return []
    const free = kind === 'container' ? ` (${left} free)` : ''
    return [{ value: `${kind}~${id}`, label: `${ITEM_WORDS[kind]}: ${label}${free}` }]
  })
}

/** The common lines are called by their names, not by their keys. */
function nameOfPrey(choice: StockChoice): StockChoice {
  if (choice.kind === 'pack') return { ...choice, label: PREY_NAMES.get(choice.id) ?? choice.label }
  if (choice.kind !== 'culture') return choice
  const [label = '', slug = ''] = choice.label.split(', ')
  return { ...choice, label: `${label}, ${PREY_NAMES.get(slug) ?? slug}` }
}
