import type { PlainDate } from '@/lib/domain/calendar/date'
import type { KnownZone } from '@/lib/domain/zone/history'
import type { DayHeat } from '@/lib/domain/zone/incident'
import type { MeasuredDay } from '@/lib/domain/zone/measured-day'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type SetPoint = { from: PlainDate; dayC: number; nightC: number | null }
export type LastReading = { at: string; temperatureC: number; humidityPct: number | null }
export type ZoneRow = {
  id: string
  name: string
  walkingOrder: number
  version: number
  quarantineUntil: PlainDate | null
  quarantineReason: string
  archivedOn: PlainDate | null
  setPoints: SetPoint[]
  lastReading: LastReading | null
}
/** With everything that temperature histories are made from. */
export type MeasuredZone = ZoneRow & KnownZone & { days: MeasuredDay[]; incidents: DayHeat[] }

type ZoneFilter = { ids?: readonly string[]; includeArchived?: boolean }

const ZONE_COLUMNS = Prisma.sql`
  z.id, z.name, z.walking_order as "walkingOrder", z.version, z.quarantine_until::text as "quarantineUntil",
  z.quarantine_reason as "quarantineReason", z.archived_at::date::text as "archivedOn",
  (select coalesce(json_agg(json_build_object('from', s.from_on, 'dayC', s.day_c, 'nightC', s.night_c)
      order by s.from_on), '[]')
    from zone_set_point s where s.workspace_id = z.workspace_id and s.zone_id = z.id) as "setPoints",
  (select json_build_object('at', to_json(r.at), 'temperatureC', r.temperature_c, 'humidityPct', r.humidity_pct)
    from reading r where r.workspace_id = z.workspace_id and r.zone_id = z.id and r.archived_at is null
    order by r.at desc limit 1) as "lastReading"`

// A year of days for twenty zones stays small: four figures for a day without a gap, its hours for one with gaps.
const DAYS = Prisma.sql`
  (select coalesce(json_agg(json_build_object('on', d."on", 'partsC', d.parts_c,
      'hoursC', case when cardinality(d.parts_c) = 0 then d.hours_c else '[]' end) order by d."on"), '[]')
    from zone_day d where d.workspace_id = z.workspace_id and d.zone_id = z.id and d.readings > 0) as days`

// By the days of the wall's calendar: nothing that stood there travels before two whole days have passed.
const INCIDENTS = Prisma.sql`
  (select coalesce(json_agg(json_build_object('kind', i.kind,
      'beganOn', (i.began_at at time zone w.time_zone)::date,
      'clearOn', ((i.ended_at + interval '48 hours') at time zone w.time_zone)::date) order by i.began_at), '[]')
    from zone_incident i join workspace w on w.workspace_id = i.workspace_id
    where i.workspace_id = z.workspace_id and i.zone_id = z.id and i.archived_at is null and i.kind <> 'silent'
      and (i.ended_at is null or i.ended_at > now() - interval '3 days')) as incidents`

function selectZones<T>(
  tx: Tx,
  workspaceId: WorkspaceId,
  { columns, filter }: { columns: Prisma.Sql; filter: ZoneFilter },
): Promise<T[]> {
  const { ids, includeArchived = false } = filter
  const isOpen = includeArchived ? Prisma.empty : Prisma.sql`and z.archived_at is null`
  const isOne = ids ? Prisma.sql`and z.id = any(${[...ids]}::uuid[])` : Prisma.empty
  return tx.$queryRaw<T[]>`
    select ${columns} from zone z where z.workspace_id = ${workspaceId}::uuid ${isOpen} ${isOne}
    order by z.walking_order, z.name`
}

/** Every zone, archived ones too where asked (old records stand in them), each with its set points oldest first. */
export function listZones(tx: Tx, workspaceId: WorkspaceId, includeArchived = false): Promise<ZoneRow[]> {
  return selectZones(tx, workspaceId, { columns: ZONE_COLUMNS, filter: { includeArchived } })
}

/** The zones by id, archived ones included, for turning stays into temperature histories: one statement. */
export async function loadZonesById(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, MeasuredZone>> {
  const columns = Prisma.sql`${ZONE_COLUMNS}, ${DAYS}, ${INCIDENTS}`
  const zones = await selectZones<MeasuredZone>(tx, workspaceId, {
    columns,
    filter: { includeArchived: true },
  })
  return new Map(zones.map((zone) => [zone.id, zone]))
}

/**
 * One zone with its set points.
 * @throws AppError not-found
 */
export async function requireZone(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ZoneRow> {
  const filter = { ids: [id], includeArchived: true }
  const [zone] = await selectZones<ZoneRow>(tx, workspaceId, { columns: ZONE_COLUMNS, filter })
  if (!zone) throw refuseUnknown('zone')
  return zone
}

/**
 * The zone with its row locked: its readings, its days and its incidents are written by one at a time.
 * @throws AppError not-found
 */
export async function lockZone(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ZoneRow> {
  await tx.$queryRaw`
    select id from zone where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for no key update`
  return requireZone(tx, workspaceId, id)
}

/** @throws AppError invalid */
export function refuseOutOfUse({ archivedOn }: ZoneRow): void {
  if (archivedOn !== null) throw new AppError('invalid', 'This zone is out of use.')
}

/** What a zone is set to on a day: the newest set point that holds by then, or the first one before it. */
export function getSetPointOn(setPoints: readonly SetPoint[], on: PlainDate): SetPoint | undefined {
  return setPoints.findLast((setPoint) => setPoint.from <= on) ?? setPoints[0]
}

export type ZoneOccupants = { animals: number; clutches: number; eggCases: number }

/** How much stands in each zone now, by zone id. */
export async function countOccupantsByZone(
  tx: Tx,
  workspaceId: WorkspaceId,
): Promise<Map<string, ZoneOccupants>> {
  const by = { by: ['zoneId' as const], _count: { _all: true as const } }
  const animals = await tx.housing.groupBy({ ...by, where: { workspaceId, untilOn: null } })
  const clutches = await tx.clutchHousing.groupBy({ ...by, where: { workspaceId, untilOn: null } })
  const eggCases = await tx.eggCaseStay.groupBy({
    ...by,
    where: { workspaceId, untilOn: null, eggCase: { endedOn: null } },
  })
  const occupants = new Map<string, ZoneOccupants>()
  const of = (zoneId: string) => {
    const known = occupants.get(zoneId) ?? { animals: 0, clutches: 0, eggCases: 0 }
    occupants.set(zoneId, known)
    return known
  }
  for (const row of animals) of(row.zoneId).animals = row._count._all
  for (const row of clutches) of(row.zoneId).clutches = row._count._all
  for (const row of eggCases) of(row.zoneId).eggCases = row._count._all
  return occupants
}

export type ZoneResidents = {
  /** By species, the most numerous first. */
  animals: { speciesId: string; scientificName: string; count: number }[]
  clutches: { id: string; label: string; scientificName: string; together: number }[]
  eggCases: { id: string; label: string; scientificName: string }[]
  /** Jars of live food, by prey line. */
  cultures: { slug: string; count: number }[]
}

/** Who stands in a zone, or stood there on any of some days: one statement. `until` is the last of the days. */
export async function loadResidents(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, from, until }: { zoneId: string; from: PlainDate; until: PlainDate },
): Promise<ZoneResidents> {
  const during = Prisma.sql`s.from_on <= ${until}::date and (s.until_on is null or s.until_on > ${from}::date)`
  const here = Prisma.sql`s.workspace_id = ${workspaceId}::uuid and s.zone_id = ${zoneId}::uuid and ${during}`
  const [found] = await tx.$queryRaw<ZoneResidents[]>`
    select
      (select coalesce(json_agg(json_build_object('speciesId', a.id, 'scientificName', a.scientific_name,
          'count', a.count) order by a.count desc, a.scientific_name), '[]')
        from (select p.id, p.scientific_name, count(distinct i.id)::int as count
          from housing s
          join individual i on i.workspace_id = s.workspace_id and i.id = s.individual_id
          join species p on p.workspace_id = i.workspace_id and p.id = i.species_id
          where ${here} group by p.id, p.scientific_name) a) as animals,
      (select coalesce(json_agg(json_build_object('id', c.id, 'label', c.label,
          'scientificName', c.scientific_name, 'together', c.together) order by c.label), '[]')
        from (select distinct c.id, c.label, p.scientific_name, n.together
          from clutch_housing s
          join clutch c on c.workspace_id = s.workspace_id and c.id = s.clutch_id
          join head_count n on n.workspace_id = c.workspace_id and n.clutch_id = c.id
          join species p on p.workspace_id = c.workspace_id and p.id = c.species_id
          where ${here}) c) as clutches,
      (select coalesce(json_agg(json_build_object('id', e.id, 'label', e.label,
          'scientificName', e.scientific_name) order by e.label), '[]')
        from (select distinct e.id, e.label, p.scientific_name
          from egg_case_stay s
          join egg_case e on e.workspace_id = s.workspace_id and e.id = s.egg_case_id
          join species p on p.workspace_id = e.workspace_id and p.id = e.species_id
          where ${here} and (e.ended_on is null or e.ended_on > ${from}::date)) e) as "eggCases",
      (select coalesce(json_agg(json_build_object('slug', k.slug, 'count', k.count) order by k.slug), '[]')
        from (select c.slug, count(*)::int as count from culture c
          where c.workspace_id = ${workspaceId}::uuid and c.zone_id = ${zoneId}::uuid
            and c.started_on <= ${until}::date and (c.ended_on is null or c.ended_on > ${from}::date)
          group by c.slug) k) as cultures`
  return found ?? { animals: [], clutches: [], eggCases: [], cultures: [] }
}
