import type { PlainDate } from '@/lib/domain/calendar/date'
import type { ShortFood } from '@/lib/domain/food-demand/short'
import { forecastHatch, type HatchForecast, type HatchInput, type Laid } from '@/lib/domain/hatch/forecast'
import { learnedHatchInput } from '@/lib/domain/hatch/learning'
import {
  historyOfZoneStays,
  type Stay,
  staysAsOf,
  type ZonesById,
  zonesAsOf,
} from '@/lib/domain/zone/history'
import { futureSpreadC } from '@/lib/domain/zone/spread'
import type { EggCaseEnd } from '@/lib/features/egg-case/schema'
import { type GrownSpecies, type GrowthSubjects, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import type { OwnLosses } from '@/lib/features/sibling-loss/data'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { asOfOrToday } from '@/lib/platform/plain-date-schema'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type HatchRow = {
  id: string
  on: PlainDate
  likely: number
  low: number | null
  high: number | null
  clutchId: string
  clutchLabel: string
}

export type EggCaseRow = {
  id: string
  label: string
  speciesId: string
  laidOn: PlainDate | null
  laidFrom: PlainDate | null
  laidUntil: PlainDate | null
  receivedOn: PlainDate | null
  motherId: string | null
  motherLabel: string | null
  /** where it was found */
  colonyId: string | null
  colonyName: string | null
  supplier: string
  lot: string
  notes: string
  restStartOn: PlainDate | null
  restPlannedEndOn: PlainDate | null
  restEndedOn: PlainDate | null
  endedOn: PlainDate | null
  end: EggCaseEnd | null
  version: number
  stays: Stay[]
  hatches: HatchRow[]
}

export type EggCaseFilter = {
  ids?: readonly string[]
  speciesId?: string
  isEnded?: boolean
  /** The id of the last one already seen. */
  after?: string
  /** Leaves out what was laid or received only after that day. */
  asOf?: PlainDate
  limit: number
}

/** Egg cases, newest record first, with their stays and hatches: one statement however many there are. */
export async function listEggCases(
  tx: Tx,
  workspaceId: WorkspaceId,
  filter: EggCaseFilter,
): Promise<EggCaseRow[]> {
  return tx.$queryRaw<EggCaseRow[]>`
    select e.id, e.label, e.species_id as "speciesId", e.laid_on::text as "laidOn",
      e.laid_from::text as "laidFrom", e.laid_until::text as "laidUntil", e.received_on::text as "receivedOn",
      e.mother_id as "motherId", m.label as "motherLabel",
      e.colony_id as "colonyId", o.name as "colonyName", e.supplier, e.lot, e.notes,
      e.rest_start_on::text as "restStartOn", e.rest_planned_end_on::text as "restPlannedEndOn",
      e.rest_ended_on::text as "restEndedOn", e.ended_on::text as "endedOn", e."end"::text as "end", e.version,
      (select coalesce(json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on, 'until', s.until_on)
          order by s.from_on), '[]')
        from egg_case_stay s where s.workspace_id = e.workspace_id and s.egg_case_id = e.id) as stays,
      (select coalesce(json_agg(json_build_object('id', h.id, 'on', h."on", 'likely', h.likely, 'low', h.low,
          'high', h.high, 'clutchId', h.clutch_id, 'clutchLabel', c.label) order by h."on", h.id), '[]')
        from hatch h join clutch c on c.workspace_id = h.workspace_id and c.id = h.clutch_id
        where h.workspace_id = e.workspace_id and h.egg_case_id = e.id) as hatches
    from egg_case e
    left join individual m on m.workspace_id = e.workspace_id and m.id = e.mother_id
    left join colony o on o.workspace_id = e.workspace_id and o.id = e.colony_id
    where e.workspace_id = ${workspaceId}::uuid ${conditionsOf(filter)}
    order by e.id desc limit ${filter.limit}`
}

const LAST_DAY = '9999-12-31'

function conditionsOf({ ids, speciesId, isEnded, after, asOf }: EggCaseFilter): Prisma.Sql {
  const conditions = [
    ids && Prisma.sql`and e.id = any(${[...ids]}::uuid[])`,
    speciesId && Prisma.sql`and e.species_id = ${speciesId}::uuid`,
    isEnded === true && Prisma.sql`and e.ended_on <= ${asOf ?? LAST_DAY}::date`,
    isEnded === false && Prisma.sql`and (e.ended_on is null or e.ended_on > ${asOf ?? LAST_DAY}::date)`,
    asOf && Prisma.sql`and coalesce(e.received_on, e.laid_on, e.laid_from) <= ${asOf}::date`,
    after && Prisma.sql`and e.id < ${after}::uuid`,
  ].filter((condition): condition is Prisma.Sql => typeof condition === 'object')
  return conditions.length === 0 ? Prisma.empty : Prisma.join(conditions, ' ')
}

/**
 * Clutches of other egg cases of one mother that hatched of late: whoever hatches beside them, in one tub, may be of
 * them. Latest first.
 */
export async function listSiblingClutches(
  tx: Tx,
  workspaceId: WorkspaceId,
  { motherId, not, since }: { motherId: string; not: string; since: PlainDate },
): Promise<{ id: string; label: string }[]> {
  return tx.$queryRaw<{ id: string; label: string }[]>`
    select c.id, c.label from clutch c
    where c.workspace_id = ${workspaceId}::uuid and c.hatched_on >= ${since}::date
      and exists (select from hatch h join egg_case e on e.workspace_id = h.workspace_id and e.id = h.egg_case_id
        where h.workspace_id = c.workspace_id and h.clutch_id = c.id and e.mother_id = ${motherId}::uuid
          and e.id <> ${not}::uuid)
    order by c.hatched_on desc, c.id desc limit 10`
}

/** @throws AppError not-found */
export async function requireEggCase(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<EggCaseRow> {
  const [row] = await listEggCases(tx, workspaceId, { ids: [id], limit: 1 })
  if (!row) throw refuseUnknown('egg case')
  return row
}

/** What forecasts are computed from, besides the record itself. */
export type ForecastGround = {
  /** With what was learned of them. */
  species: ReadonlyMap<string, GrownSpecies>
  zones: ZonesById
  /** The day to look from. */
  today: PlainDate
  /** How own clutches fared; the care profiles' risks stand as they are where it is left out. */
  losses?: OwnLosses
  /** Who goes short of live food; nobody where it is left out. */
  shortFood?: ShortFood | undefined
}

/** The day to look from, and whose own growth is of interest. */
export type GroundQuestion = GrowthSubjects & { asOf?: PlainDate }

/** What is known of species and zones, and what was learned of them, today or as it was on a day. */
export async function loadForecastGround(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { asOf, ...subjects }: GroundQuestion = {},
): Promise<ForecastGround> {
  const profiles = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = zonesAsOf(await loadZonesById(tx, workspaceId), asOf ?? null)
  const species = await loadGrownSpecies(tx, workspaceId, { ...subjects, species: profiles, zones, asOf })
  return { species, zones, today: asOfOrToday(asOf, today) }
}

/** Null where nothing can be said: a species without a profile, or no temperature anywhere. */
export function forecastEggCase(row: EggCaseRow, ground: ForecastGround): HatchForecast | null {
  const input = hatchInputOf(row, ground)
  return input && forecastHatch(input)
}

/** What the window of an egg case, and the nymphs of a room, are both worked out from. */
export function hatchInputOf(row: EggCaseRow, ground: ForecastGround): HatchInput | null {
  const { profile, learnedHatch } = ground.species.get(row.speciesId) ?? {}
  const { zones, today } = ground
  const stays = staysAsOf(row.stays, today)
  const history = historyOfZoneStays(stays, zones)
  const laid = laidOf(row)
  if (!profile || !laid || history.length === 0) return null
  const futureTemperatureSdC = futureSpreadC(stays, zones, today)
  const coldRest = restAsOf(row, today)
  const learned = learnedHatch ? learnedHatchInput(learnedHatch, { femaleId: row.motherId }) : {}
  return { profile, laid, history, today, coldRest, futureTemperatureSdC, ...learned }
}

function laidOf(row: EggCaseRow): Laid | null {
  if (row.laidOn) return { kind: 'known', on: row.laidOn }
  if (row.laidFrom && row.laidUntil) return { kind: 'range', from: row.laidFrom, until: row.laidUntil }
  return row.receivedOn ? { kind: 'received', on: row.receivedOn } : null
}

function restAsOf(row: EggCaseRow, today: PlainDate) {
  if (!row.restStartOn) return null
  const hasEnded = row.restEndedOn !== null && row.restEndedOn <= today
  return {
    startedOn: row.restStartOn,
    plannedEndOn: row.restPlannedEndOn,
    endedOn: hasEnded ? row.restEndedOn : null,
  }
}

/** Where it is on a day; before its first stay it is where that began. */
export function zoneOfEggCase(row: Pick<EggCaseRow, 'stays'>): string | null {
  return row.stays.at(-1)?.zoneId ?? null
}

/** The first day on which this egg case can have been seen. */
export function firstDayOfEggCase(row: EggCaseRow): PlainDate | null {
  return row.laidOn ?? row.laidFrom ?? row.receivedOn
}

/** How answers of the API name a species. */
export function speciesFields(
  { speciesId }: { speciesId: string },
  ground: ForecastGround,
): { species: string; speciesSlug: string; scientificName: string } {
  const species = ground.species.get(speciesId)
  return {
    species: speciesId,
    speciesSlug: species?.slug ?? '',
    scientificName: species?.scientificName ?? '',
  }
}
