import { createHash } from 'node:crypto'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { LearnedDevelopment } from '@/lib/domain/development/posterior'
import type { EntryState } from '@/lib/domain/head-count/head-count'
import { type BriefOutlook, briefOutlookOf } from '@/lib/domain/individual/brief-outlook'
import type { SeenSign } from '@/lib/domain/individual/growth-sign'
import type { KnownSurroundings } from '@/lib/domain/individual/outlook'
import { lastMoultOn, type RecordedMoult } from '@/lib/domain/individual/record'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { isIndividualCode } from '@/lib/domain/label/code'
import type { Stay } from '@/lib/domain/zone/history'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { Recent } from '@/lib/platform/recent'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type IndividualMoult = RecordedMoult & { id: string; note: string; version: number }
export type IndividualStay = Stay & {
  id: string
  containerId: string
  single: boolean
  kindId: string
  kindName: string
}
export type LastFeeding = { on: PlainDate; ate: boolean; prey: string }

/** One animal with everything a forecast and a list need. */
export type IndividualRow = {
  id: string
  label: string
  speciesId: string
  speciesSlug: string
  scientificName: string
  clutchId: string | null
  clutchLabel: string | null
  /** the tray it stands on among others that nobody tells apart */
  trayId: string | null
  trayLabel: string | null
  hatchedOn: PlainDate | null
  /** Last day of a hatch over several. */
  hatchedUntilOn: PlainDate | null
  whereabouts: EntryState
  origin: 'bred' | 'bought' | 'wild'
  sex: 'male' | 'female' | 'unsexed'
  sexCertainty: 'none' | 'probable' | 'certain'
  baselineOn: PlainDate
  baselineMoults: number
  baselineLastMoultOn: PlainDate | null
  adultSinceOn: PlainDate | null
  mated: boolean | null
  supplier: string
  notes: string
  version: number
  /** by number, without those taken back */
  moults: IndividualMoult[]
  /** wing buds and refused food as looks showed them, by day */
  signs: SeenSign[]
  /** own containers, oldest first */
  stays: IndividualStay[]
  /** where its clutch stood before, oldest first */
  clutchStays: Stay[]
  lastFedOn: PlainDate | null
  lastFedPrey: string | null
  lastRefusedOn: PlainDate | null
  /** last entry of the ledger: since when it is where it is */
  whereaboutsSince: PlainDate | null
}

export type IndividualFilter = {
  state?: EntryState
  /** Where it was at the end of that day, by the entries up to it. */
  asOf?: PlainDate
  speciesId?: string
  sex?: IndividualRow['sex']
  zoneId?: string
  clutchId?: string
  trayId?: string
  /** moults since hatch; adults are asked for by `adult` */
  moults?: number
  adult?: boolean
  /** the beginning of a label, or all of it, in its stored form */
  label?: string
}

export type IndividualPage = { filter: IndividualFilter; limit: number; cursor?: string }

/** A page of animals, newest first, in one statement; the cursor is the id of the last one seen. */
export function listIndividuals(
  tx: Tx,
  workspaceId: WorkspaceId,
  { filter, limit, cursor }: IndividualPage,
): Promise<IndividualRow[]> {
  const conditions = listConditions(filter)
  if (cursor) conditions.push(Prisma.sql`i.id < ${cursor}::uuid`)
  const where = conditions.map((condition) => Prisma.sql`and ${condition}`)
  return selectIndividuals(tx, workspaceId, {
    where: Prisma.join([Prisma.empty, ...where], ' '),
    tail: Prisma.sql`order by i.id desc limit ${limit}`,
  })
}

/**
 * Animals by id, in the order asked for.
 * @throws AppError not-found when one is not here
 */
export async function requireIndividuals(
  tx: Tx,
  workspaceId: WorkspaceId,
  ids: readonly string[],
): Promise<IndividualRow[]> {
  const rows = await selectIndividuals(tx, workspaceId, {
    where: Prisma.sql`and i.id = any(${[...ids]}::uuid[])`,
    tail: Prisma.empty,
  })
  const byId = new Map(rows.map((row) => [row.id, row]))
  return ids.map((id) => {
    const row = byId.get(id)
    if (!row) throw refuseUnknown('animal')
    return row
  })
}

/** One animal. @throws AppError not-found */
export async function requireIndividual(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<IndividualRow> {
  const [row] = await requireIndividuals(tx, workspaceId, [id])
  if (!row) throw refuseUnknown('animal')
  return row
}

/**
 * The same, locked until the end of the transaction, always in the order of their ids: two people who sell the
 * same handful of animals wait for each other instead of standing in each other's way.
 */
export async function lockIndividuals(
  tx: Tx,
  workspaceId: WorkspaceId,
  ids: readonly string[],
): Promise<IndividualRow[]> {
  const unique = [...new Set(ids)]
  await tx.$queryRaw`
    select id from individual where workspace_id = ${workspaceId}::uuid and id = any(${unique}::uuid[])
    order by id for update`
  return requireIndividuals(tx, workspaceId, unique)
}

/** One animal, locked. @throws AppError not-found */
export async function lockIndividual(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<IndividualRow> {
  const [row] = await lockIndividuals(tx, workspaceId, [id])
  if (!row) throw refuseUnknown('animal')
  return row
}

/** @throws AppError already-gone, saying where it is, when it is not here to have anything done to it */
export function refuseAway(animal: IndividualRow, today: PlainDate): void {
  if (animal.whereabouts === 'single') return
  const present = { state: animal.whereabouts }
  throw new AppError('already-gone', whereaboutsSentence(animal, today), { present })
}

/** An animal leaves from where it is, and not before the last thing that is on record about it. */
export function refuseLeavingOn(animal: IndividualRow, { on, today }: { on: string; today: string }): void {
  refuseAway(animal, today)
  if (on < animal.baselineOn)
    throw refuseField('on', `This day is before its record begins (${writeDay(animal.baselineOn, today)}).`)
  const last = lastMoultOn(animal)
  if (last && on < last)
    throw refuseField('on', `It still moulted on ${writeDay(last, today)}, after this day.`)
}

/** The animals behind labels' stored codes, by label; codes that lead nowhere are missing. */
export async function loadIndividualsByLabel(
  tx: Tx,
  workspaceId: WorkspaceId,
  labels: readonly string[],
): Promise<Map<string, IndividualRow>> {
  const rows = await selectIndividuals(tx, workspaceId, {
    where: Prisma.sql`and i.label = any(${[...labels]}::text[])`,
    tail: Prisma.empty,
  })
  return new Map(rows.map((row) => [row.label, row]))
}

const wasThere = (state: EntryState, asOf: PlainDate) => Prisma.sql`
  ${state}::head_count_state = (select x."to" from head_count_entry x
    where x.workspace_id = i.workspace_id and x.individual_id = i.id and x."on" <= ${asOf}::date
    order by x."on" desc, x.id desc limit 1)`

function listConditions(filter: IndividualFilter): Prisma.Sql[] {
  const { state, asOf, speciesId, sex, zoneId, clutchId, trayId, moults, adult, label } = filter
  return [
    state && (asOf ? wasThere(state, asOf) : Prisma.sql`i.whereabouts = ${state}::head_count_state`),
    speciesId && Prisma.sql`i.species_id = ${speciesId}::uuid`,
    sex && Prisma.sql`i.sex = ${sex}::sex`,
    clutchId && Prisma.sql`i.clutch_id = ${clutchId}::uuid`,
    trayId && Prisma.sql`i.tray_id = ${trayId}::uuid`,
    label &&
      (isIndividualCode(label) ? Prisma.sql`i.label = ${label}` : Prisma.sql`i.label like ${`${label}%`}`),
    adult !== undefined &&
      (adult ? Prisma.sql`i.adult_since_on is not null` : Prisma.sql`i.adult_since_on is null`),
    moults !== undefined &&
      Prisma.sql`coalesce((select max(m.number) from moult m where m.workspace_id = i.workspace_id
        and m.individual_id = i.id and m.archived_at is null), i.baseline_moults) = ${moults}`,
    // `offset 0` keeps it a question about one animal after the other: the one plan for all workspaces would otherwise
    // join everything in the zone first, which takes seconds where that is 200,000.
    zoneId &&
      Prisma.sql`exists (select from housing h where h.workspace_id = i.workspace_id and h.individual_id = i.id
        and h.until_on is null and h.zone_id = ${zoneId}::uuid offset 0)`,
  ].filter((condition) => condition instanceof Prisma.Sql)
}

// Dates leave JSON and ::text as plain dates, so nothing here passes through an instant.
const COLUMNS = Prisma.sql`
  i.id, i.label, i.species_id as "speciesId", sp.slug as "speciesSlug", sp.scientific_name as "scientificName",
  i.clutch_id as "clutchId", c.label as "clutchLabel", i.tray_id as "trayId",
  (select t.label from tray t where t.workspace_id = i.workspace_id and t.id = i.tray_id) as "trayLabel",
  c.hatched_on::text as "hatchedOn",
  (select max(h."on")::text from hatch h where h.workspace_id = c.workspace_id and h.clutch_id = c.id)
    as "hatchedUntilOn", i.whereabouts::text, i.origin::text, i.sex::text,
  i.sex_certainty::text as "sexCertainty", i.baseline_on::text as "baselineOn",
  i.baseline_moults as "baselineMoults", i.baseline_last_moult_on::text as "baselineLastMoultOn",
  i.adult_since_on::text as "adultSinceOn", i.mated, i.supplier, i.notes, i.version,
  coalesce(moults.list, '[]') as moults, coalesce(signs.list, '[]') as signs, coalesce(stays.list, '[]') as stays,
  coalesce(clutch_stays.list, '[]') as "clutchStays", fed."on" as "lastFedOn", fed.prey as "lastFedPrey",
  refused."on" as "lastRefusedOn", moved."on" as "whereaboutsSince"`

const JOINS = Prisma.sql`
  join species sp on sp.workspace_id = i.workspace_id and sp.id = i.species_id
  left join clutch c on c.workspace_id = i.workspace_id and c.id = i.clutch_id
  left join lateral (
    select json_agg(json_build_object('id', m.id, 'number', m.number, 'on', m."on", 'seenFrom', m.seen_from,
      'outcome', m.outcome, 'final', m.final, 'note', m.note, 'version', m.version) order by m.number) as list
    from moult m
    where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null) moults on true
  left join lateral (
    select json_agg(json_build_object('kind', k.kind, 'on', l."on") order by l."on", k.kind) as list
    from look l
    cross join lateral (values ('wing_buds', l.wing_buds), ('refuses_food', l.refuses_food)) as k(kind, is_seen)
    where l.workspace_id = i.workspace_id and l.individual_id = i.id and l.archived_at is null
      and (l.wing_buds or l.refuses_food) and k.is_seen) signs on true
  left join lateral (
    select json_agg(json_build_object('id', h.id, 'containerId', h.container_id, 'single', h.single, 'kindId', k.id,
      'kindName', k.name, 'zoneId', h.zone_id, 'from', h.from_on, 'until', h.until_on)
      order by h.from_on, h.until_on nulls last, h.id) as list
    from housing h
    join container x on x.workspace_id = h.workspace_id and x.id = h.container_id
    join container_kind k on k.workspace_id = x.workspace_id and k.id = x.container_kind_id
    where h.workspace_id = i.workspace_id and h.individual_id = i.id) stays on true
  left join lateral (
    select json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on, 'until', s.until_on)
      order by s.from_on, s.until_on nulls last) as list
    from clutch_housing s
    where s.workspace_id = i.workspace_id and s.clutch_id = i.clutch_id) clutch_stays on true
  left join lateral (
    select f."on"::text as "on", f.prey from feeding f
    where f.workspace_id = i.workspace_id and f.individual_id = i.id and f.ate
    order by f."on" desc, f.id desc limit 1) fed on true
  left join lateral (
    select f."on"::text as "on" from feeding f
    where f.workspace_id = i.workspace_id and f.individual_id = i.id and not f.ate
    order by f."on" desc, f.id desc limit 1) refused on true
  left join lateral (
    select e."on"::text as "on" from head_count_entry e
    where e.workspace_id = i.workspace_id and e.individual_id = i.id
    order by e.id desc limit 1) moved on true`

function selectIndividuals(
  tx: Tx,
  workspaceId: WorkspaceId,
  { where, tail }: { where: Prisma.Sql; tail: Prisma.Sql },
): Promise<IndividualRow[]> {
  return tx.$queryRaw<IndividualRow[]>`
    with i as (
      select i.* from individual i where i.workspace_id = ${workspaceId}::uuid ${where} ${tail}
    )
    select ${COLUMNS} from i ${JOINS} order by i.id desc`
}

/** By a hash of all that each was worked out from, so that nothing can change behind one: a few megabytes. */
const outlooks = new Recent<BriefOutlook>(5000)
const marks = new WeakMap<object, string>()

const hash = (content: unknown) => createHash('sha1').update(JSON.stringify(content)).digest('base64')

/** Many animals of a list have one profile and one zone. */
function markOf(known: object, content: unknown = known): string {
  const mark = marks.get(known) ?? hash(content)
  marks.set(known, mark)
  return mark
}

/**
 * What `briefOutlookOf` says, worked out anew only where something that it follows from has changed: most animals of
 * a list are as they were when it was last opened.
 */
export function getBriefOutlook(animal: IndividualRow, known: KnownSurroundings): BriefOutlook {
  const { profile, naming, today, learned, zones } = known
  const ids = [...animal.clutchStays, ...animal.stays].map(({ zoneId }) => zoneId)
  const own = new Map([...zones].filter(([id]) => ids.includes(id)))
  const effects = learned && ownEffects(learned, animal)
  const key = hash([
    ...[animal, today, naming, markOf(profile), effects],
    learned && markOf(learned, { ...learned, clutches: {}, animals: {} }),
    [...own].map(([id, zone]) => [id, markOf(zone)]),
  ])
  const before = outlooks.get(key)
  if (before) return before
  // From nothing but what stands in the key.
  const outlook = briefOutlookOf(animal, {
    ...known,
    zones: own,
    learned: learned && { ...learned, ...effects },
  })
  outlooks.set(key, outlook)
  return outlook
}

/** Those of the animal and of the clutch it is from. */
function ownEffects({ animals, clutches }: LearnedDevelopment, { id, clutchId }: IndividualRow) {
  const animal = animals[id]
  const clutch = animal?.clutchId ?? clutchId ?? ''
  return {
    animals: animal ? { [id]: animal } : {},
    clutches: clutches[clutch] ? { [clutch]: clutches[clutch] } : {},
  }
}
