import type { PlainDate } from '@/lib/domain/calendar/date'
import type { LearnedAnimal, LearnedClutch, LearnedDevelopment } from '@/lib/domain/development/posterior'
import type { Doubt } from '@/lib/domain/growth/doubt'
import type { KeptAnimal, KeptClutch } from '@/lib/domain/growth/evidence'
import { fitGrowth, type GrowthEvidence, type GrowthFit, hasEvidence } from '@/lib/domain/growth/fit'
import type { KeptEggCase } from '@/lib/domain/growth/hatch-evidence'
import type { LearnedHatch } from '@/lib/domain/hatch/learning'
import type { ZonesById } from '@/lib/domain/zone/history'
import type { SpeciesWithProfile } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** The part of a fit that holds for a whole species, as it is stored; effects of clutches and animals stand apart. */
export type StoredFit = Omit<GrowthFit, 'doubts' | 'development'> & {
  development: Omit<LearnedDevelopment, 'clutches' | 'animals'>
}

/**
 * Whose own effects are wanted besides those of the species: animals, with the clutches they are from, and clutches.
 * Those of clutches still together always come along, as they are few.
 */
export type GrowthSubjects = { animals?: readonly { id: string }[]; clutchIds?: readonly string[] }

type FitRow = {
  speciesId: string
  content: StoredFit
  clutches: Record<string, LearnedClutch> | null
  animals: Record<string, LearnedAnimal> | null
}

/** A species with the values learned of it in its profile, for the forecasts of its animals. */
export type GrownSpecies = SpeciesWithProfile & {
  learned: LearnedDevelopment | null
  learnedHatch: LearnedHatch | null
}

export type GrowthQuestion = GrowthSubjects & {
  species: readonly SpeciesWithProfile[]
  /** As they were known on `asOf`, where that is not null: then everything is learned anew, as of then. */
  zones: ZonesById
  asOf?: PlainDate | null
}

/**
 * Species to forecast with, by id: what the last fits say, in one statement, or with `asOf` a fit in place. Those
 * whose records have not been learned from yet have their care profiles as they stand.
 */
export async function loadGrownSpecies(
  tx: Tx,
  workspaceId: WorkspaceId,
  asked: GrowthQuestion,
): Promise<Map<string, GrownSpecies>> {
  const { species, zones, asOf } = asked
  const fits = asOf
    ? await learnAsOf(tx, workspaceId, { species, zones, asOf })
    : await loadFits(tx, workspaceId, asked)
  return new Map(species.map((one) => [one.id, grown(one, fits.get(one.id))]))
}

function grown(species: SpeciesWithProfile, fit: KnownFit | undefined): GrownSpecies {
  if (!species.profile || !fit) return { ...species, learned: null, learnedHatch: null }
  const profile = { ...species.profile, growth: fit.growth }
  return { ...species, profile, learned: fit.development, learnedHatch: fit.hatch }
}

type KnownFit = Pick<GrowthFit, 'growth' | 'development' | 'hatch'>

async function loadFits(
  tx: Tx,
  workspaceId: WorkspaceId,
  { species, animals = [], clutchIds = [] }: GrowthQuestion,
): Promise<Map<string, KnownFit>> {
  const individualIds = animals.map(({ id }) => id)
  const rows = await tx.$queryRaw<FitRow[]>`
    with animal as (
      select i.id, i.clutch_id, i.species_id from individual i
      where i.workspace_id = ${workspaceId}::uuid and i.id = any(${individualIds}::uuid[])
    ), family as (
      select clutch_id as id from animal
      union select unnest(${[...clutchIds]}::uuid[])
      union select n.clutch_id from head_count n where n.workspace_id = ${workspaceId}::uuid and n.together > 0
    )
    select f.species_id as "speciesId", f.content,
      (select jsonb_object_agg(g.clutch_id, g.effect) from clutch_growth g
        join clutch c on c.workspace_id = g.workspace_id and c.id = g.clutch_id
        where g.workspace_id = f.workspace_id and g.clutch_id in (select id from family)
          and g.fit_version = f.version and c.species_id = f.species_id) as clutches,
      (select jsonb_object_agg(g.individual_id, g.effect) from animal a
        join animal_growth g on g.workspace_id = f.workspace_id and g.individual_id = a.id
        where a.species_id = f.species_id and g.fit_version = f.version) as animals
    from growth_fit f
    where f.workspace_id = ${workspaceId}::uuid and f.species_id = any(${species.map(({ id }) => id)}::uuid[])
      and f.content is not null`
  return new Map(
    rows.map(({ speciesId, content, clutches, animals: own }) => {
      const development = { ...content.development, clutches: clutches ?? {}, animals: own ?? {} }
      return [speciesId, { ...content, development }]
    }),
  )
}

async function learnAsOf(
  tx: Tx,
  workspaceId: WorkspaceId,
  { species, zones, asOf }: { species: readonly SpeciesWithProfile[]; zones: ZonesById; asOf: PlainDate },
): Promise<Map<string, KnownFit>> {
  const fits = new Map<string, KnownFit>()
  const evidence = await listEvidence(tx, workspaceId, { speciesIds: species.map(({ id }) => id), asOf })
  for (const { id, profile } of species) {
    const own = evidence.get(id)
    if (profile && own && hasEvidence(own)) fits.set(id, fitGrowth(profile, own, { zones, asOf }))
  }
  return fits
}

type Asked = { speciesIds: readonly string[]; asOf: PlainDate }
type OfSpecies<T> = T & { speciesId: string }

/** The records of species, as they were known on a day: three statements, however many. */
export async function listEvidence(
  tx: Tx,
  workspaceId: WorkspaceId,
  asked: Asked,
): Promise<Map<string, GrowthEvidence>> {
  const animals = await listKeptAnimals(tx, workspaceId, asked)
  const clutches = await listKeptClutches(tx, workspaceId, asked)
  const eggCases = await listKeptEggCases(tx, workspaceId, asked)
  const [ofAnimals, ofClutches, ofEggCases] = [bySpecies(animals), bySpecies(clutches), bySpecies(eggCases)]
  return new Map(
    asked.speciesIds.map((id) => [
      id,
      {
        animals: ofAnimals.get(id) ?? [],
        clutches: ofClutches.get(id) ?? [],
        eggCases: ofEggCases.get(id) ?? [],
      },
    ]),
  )
}

function bySpecies<T>(rows: readonly OfSpecies<T>[]): Map<string, T[]> {
  const found = new Map<string, T[]>()
  for (const row of rows) {
    const others = found.get(row.speciesId)
    if (others) others.push(row)
    else found.set(row.speciesId, [row])
  }
  return found
}

/** Animals newest first; of very many the newest, who say most about how it is now. */
const MOST_ANIMALS = 20_000

function listKeptAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  { speciesIds, asOf }: Asked,
): Promise<OfSpecies<KeptAnimal>[]> {
  return tx.$queryRaw<OfSpecies<KeptAnimal>[]>`
    select i.id, i.species_id as "speciesId", i.clutch_id as "clutchId", i.sex::text, i.baseline_on::text as "baselineOn",
      i.baseline_moults as "baselineMoults", i.baseline_last_moult_on::text as "baselineLastMoultOn",
      i.adult_since_on::text as "adultSinceOn", c.hatched_on::text as "hatchedOn",
      (select coalesce(json_agg(json_build_object('number', m.number, 'on', m."on", 'seenFrom', m.seen_from,
          'outcome', m.outcome, 'final', m.final, 'isConfirmed', m.confirmed_at is not null) order by m.number), '[]')
        from moult m
        where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null) as moults,
      (select coalesce(json_agg(json_build_object('kind', 'wing_buds', 'on', l."on") order by l."on"), '[]')
        from look l
        where l.workspace_id = i.workspace_id and l.individual_id = i.id and l.archived_at is null
          and (l.wing_buds or l.refuses_food) and l.wing_buds) as signs,
      (select coalesce(json_agg(json_build_object('zoneId', h.zone_id, 'from', h.from_on, 'until', h.until_on)
          order by h.from_on, h.until_on nulls last), '[]')
        from housing h where h.workspace_id = i.workspace_id and h.individual_id = i.id) as stays,
      greatest(
        (select max(l."on") from look l where l.workspace_id = i.workspace_id and l.individual_id = i.id
          and l.archived_at is null and l."on" <= ${asOf}::date),
        (select max(f."on") from feeding f where f.workspace_id = i.workspace_id and f.individual_id = i.id
          and f."on" <= ${asOf}::date))::text as "lastSeenOn",
      case when i.whereabouts <> 'single' then e."on"::text end as "leftOn",
      coalesce(i.whereabouts = 'dead' and e.cause = 'bad_moult', false) as "diedMoulting",
      i.whereabouts = 'dead' as "hasDied"
    from individual i
    left join clutch c on c.workspace_id = i.workspace_id and c.id = i.clutch_id
    left join lateral (
      select e."on", e.cause from head_count_entry e
      where e.workspace_id = i.workspace_id and e.individual_id = i.id order by e.id desc limit 1) e on true
    where i.workspace_id = ${workspaceId}::uuid and i.species_id = any(${[...speciesIds]}::uuid[])
      and i.whereabouts <> 'together' and i.baseline_on <= ${asOf}::date
    order by i.id desc limit ${MOST_ANIMALS}`
}

function listKeptClutches(
  tx: Tx,
  workspaceId: WorkspaceId,
  { speciesIds, asOf }: Asked,
): Promise<OfSpecies<KeptClutch>[]> {
  return tx.$queryRaw<OfSpecies<KeptClutch>[]>`
    select c.id, c.species_id as "speciesId", c.hatched_on::text as "hatchedOn",
      greatest(c.hatched_on, (select max(h."on") from hatch h
        where h.workspace_id = c.workspace_id and h.clutch_id = c.id and h."on" <= ${asOf}::date))::text
        as "hatchedUntilOn",
      n.together,
      (select coalesce(json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on, 'until', s.until_on)
          order by s.from_on, s.until_on nulls last), '[]')
        from clutch_housing s where s.workspace_id = c.workspace_id and s.clutch_id = c.id) as stays,
      (select coalesce(json_agg(json_build_object('on', o."on", 'moulted', o.moulted, 'number', o.number,
          'sizeGap', o.size_gap, 'hunger', o.hunger, 'hanging', o.hanging, 'wingBuds', o.wing_buds,
          'refusesFood', o.refuses_food) order by o."on", o.id), '[]')
        from clutch_observation o
        where o.workspace_id = c.workspace_id and o.clutch_id = c.id and o.archived_at is null) as sightings
    from clutch c join head_count n on n.workspace_id = c.workspace_id and n.clutch_id = c.id
    where c.workspace_id = ${workspaceId}::uuid and c.species_id = any(${[...speciesIds]}::uuid[])
      and c.hatched_on <= ${asOf}::date
    order by c.id`
}

function listKeptEggCases(
  tx: Tx,
  workspaceId: WorkspaceId,
  { speciesIds, asOf }: Asked,
): Promise<OfSpecies<KeptEggCase>[]> {
  return tx.$queryRaw<OfSpecies<KeptEggCase>[]>`
    select e.id, e.species_id as "speciesId", e.mother_id as "motherId",
      case
        when e.laid_on is not null then json_build_object('kind', 'known', 'on', e.laid_on)
        when e.laid_from is not null
          then json_build_object('kind', 'range', 'from', e.laid_from, 'until', e.laid_until)
        when e.received_on is not null then json_build_object('kind', 'received', 'on', e.received_on)
      end as laid,
      case when e.rest_start_on <= ${asOf}::date then json_build_object('startedOn', e.rest_start_on,
        'plannedEndOn', e.rest_planned_end_on,
        'endedOn', case when e.rest_ended_on <= ${asOf}::date then e.rest_ended_on end) end as "coldRest",
      (select coalesce(json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on, 'until', s.until_on)
          order by s.from_on), '[]')
        from egg_case_stay s where s.workspace_id = e.workspace_id and s.egg_case_id = e.id) as stays,
      (select coalesce(json_agg(json_build_object('on', h."on", 'likely', h.likely) order by h."on", h.id), '[]')
        from hatch h where h.workspace_id = e.workspace_id and h.egg_case_id = e.id) as hatches,
      case when e.ended_on <= ${asOf}::date then e.ended_on::text end as "endedOn",
      coalesce(e."end" = 'infertile' and e.ended_on <= ${asOf}::date, false) as "isInfertile"
    from egg_case e
    where e.workspace_id = ${workspaceId}::uuid and e.species_id = any(${[...speciesIds]}::uuid[])
    order by e.id`
}

/** A date that looks wrong, with the moult that carries it. */
export type DoubtRow = Doubt & { label: string; scientificName: string; moultId: string; version: number }

const DOUBTS_SHOWN = 20

/**
 * Dates of moults that the last fits take for slips and that stand as they were then, likeliest first. A date that was
 * corrected, taken back or confirmed since is none any more.
 */
export function listDoubts(
  tx: Tx,
  workspaceId: WorkspaceId,
  of: { individualId?: string; clutchId?: string } = {},
): Promise<DoubtRow[]> {
  return tx.$queryRaw<DoubtRow[]>(selectDoubts(workspaceId, of))
}

/** The same for a statement that asks for more than them. */
export function selectDoubts(
  workspaceId: WorkspaceId,
  { individualId = null, clutchId = null }: { individualId?: string | null; clutchId?: string | null } = {},
): Prisma.Sql {
  return Prisma.sql`
    select i.id as "animalId", d.moults, d."on", d.chance, d."likelyOn", d.slip, d.days, d."usualDays", i.label,
      s.scientific_name as "scientificName", m.id as "moultId", m.version
    from growth_fit f
    cross join lateral jsonb_to_recordset(f.doubts) as d("animalId" uuid, moults int, "on" text, chance float8,
      "likelyOn" text, slip text, days int, "usualDays" int)
    join individual i on i.workspace_id = f.workspace_id and i.id = d."animalId"
    join species s on s.workspace_id = f.workspace_id and s.id = f.species_id
    join moult m on m.workspace_id = f.workspace_id and m.individual_id = i.id and m.number = d.moults
      and m.archived_at is null and m.confirmed_at is null and m."on"::text = d."on"
    where f.workspace_id = ${workspaceId}::uuid
      and (${individualId}::uuid is null or i.id = ${individualId}::uuid)
      and (${clutchId}::uuid is null or i.clutch_id = ${clutchId}::uuid)
    order by d.chance desc, i.id, d.moults limit ${DOUBTS_SHOWN}`
}

export type FitState = {
  fit: StoredFit | null
  fittedAt: Date | null
  failure: string | null
  failedAt: Date | null
}

/** The last fit of a species as it was stored, and whether an attempt since has failed; null where there was none. */
export async function loadFitState(
  tx: Tx,
  workspaceId: WorkspaceId,
  speciesId: string,
): Promise<FitState | null> {
  const row = await tx.growthFit.findUnique({
    where: { workspaceId_speciesId: { workspaceId, speciesId } },
    select: { content: true, fittedAt: true, failure: true, failedAt: true },
  })
  if (!row) return null
  const { content, ...rest } = row
  // Written only by the fit, so the stored JSON has this shape.
  return { ...rest, fit: content as StoredFit | null }
}
