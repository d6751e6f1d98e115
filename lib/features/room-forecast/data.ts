import type { PlainDate } from '@/lib/domain/calendar/date'
import { expectedHatch, learnHatch } from '@/lib/domain/hatch/learning'
import { type AnimalsAlike, collectAnimals } from '@/lib/domain/room-forecast/collect'
import { forecastRoomSteps, type RoomForecast } from '@/lib/domain/room-forecast/forecast'
import type { RoomEggCase, RoomGroup, RoomInput, RoomZone } from '@/lib/domain/room-forecast/input'
import { ageOfClutch } from '@/lib/domain/separation/deadline'
import { historyOfKnownZone, type Stay } from '@/lib/domain/zone/history'
import { futureSpreadC } from '@/lib/domain/zone/spread'
import { type ClutchRow, listClutches, separationInputOf, zoneOfClutch } from '@/lib/features/clutch/data'
import {
  type EggCaseRow,
  type ForecastGround,
  hatchInputOf,
  listEggCases,
  loadForecastGround,
  zoneOfEggCase,
} from '@/lib/features/egg-case/data'
import type { Tx } from '@/lib/platform/db'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { runInPieces } from '@/lib/platform/in-pieces'
import { Recent } from '@/lib/platform/recent'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** What a room forecast is made from, and what it could not count. */
export type RoomGround = {
  room: RoomInput
  ground: ForecastGround
  /** Labels in the order of `room.eggCases`. */
  eggCaseLabels: string[]
  /** Animals and egg cases without a profile or a temperature; egg cases at rest with no end planned. */
  leftOut: { animals: number; eggCases: string[] }
}

const CLUTCH_LIMIT = 2000
const EGG_CASE_LIMIT = 2000

/**
 * Everything the room forecast is made from, in a fixed number of statements. Animals with the same record come as
 * one row, so that the work does not grow with their number. With `asOf` each record counts by its own day.
 */
export async function loadRoomGround(
  tx: Tx,
  workspace: Workspace,
  asked: { days: number; asOf?: PlainDate },
): Promise<RoomGround> {
  const { workspaceId } = workspace
  const { asOf, days } = asked
  const alike = await listAnimalsAlike(tx, workspaceId, { asOf })
  const clutchIds = [...new Set(alike.flatMap(({ clutchId }) => clutchId ?? []))]
  const ground = await loadForecastGround(tx, workspace, { asOf, clutchIds })
  const clutchStays = await loadClutchStays(tx, workspaceId)
  const clutches = await listClutches(tx, workspaceId, { isTogether: true, limit: CLUTCH_LIMIT, asOf })
  const eggCases = await listEggCases(tx, workspaceId, { isEnded: false, limit: EGG_CASE_LIMIT, asOf })
  return collectRoom({ alike, clutchStays, clutches, eggCases }, { ground, days })
}

/** The same, computed: expected animals and variance per species, sex, stage and day from today (or `asOf`) on. */
export async function loadRoomForecast(
  tx: Tx,
  workspace: Workspace,
  asked: { days: number; asOf?: PlainDate },
): Promise<RoomGround & { forecast: RoomForecast }> {
  const collected = await loadRoomGround(tx, workspace, asked)
  return { ...collected, forecast: await runInPieces(forecastCollectedRoom(workspace, collected.room)) }
}

/** Parts of it are kept, so that after one moult only what it touches is worked out again. */
const before = new Recent<RoomForecast>(6)

/** The forecast of a collected room, part by part; it needs no transaction any more. */
export function* forecastCollectedRoom(
  workspace: Workspace,
  room: RoomInput,
): Generator<undefined, RoomForecast, undefined> {
  const key = `${workspace.workspaceId} ${room.days}`
  const forecast = yield* forecastRoomSteps(room, before.get(key))
  before.set(key, forecast)
  return forecast
}

type RoomRows = {
  alike: AnimalsAlike[]
  clutchStays: Map<string, Stay[]>
  clutches: ClutchRow[]
  eggCases: EggCaseRow[]
}

function collectRoom(rows: RoomRows, { ground, days }: { ground: ForecastGround; days: number }): RoomGround {
  const { today } = ground
  const profiles = profilesOf(ground)
  const around = { profiles, zones: ground.zones, clutchStays: rows.clutchStays, today }
  const { animals, leftOut } = collectAnimals(rows.alike, around)
  const groups = rows.clutches.map((row) => ({ row, group: groupOf(row, ground) }))
  const waiting = rows.eggCases
    .filter(({ hatches }) => !hatches.some(({ on }) => on <= today))
    .map((row) => ({ row, eggCase: roomEggCaseOf(row, ground) }))
  const counted = groups.flatMap(({ group }) => group ?? [])
  const hatching = waiting.flatMap(({ row, eggCase }) => (eggCase ? [{ label: row.label, eggCase }] : []))
  const uncounted = groups.reduce((sum, { row, group }) => sum + (group ? 0 : row.headCount.together), 0)
  return {
    room: {
      today,
      days,
      species: [...profiles].map(([id, profile]) => ({ id, profile, learned: learnedOf(ground, id) })),
      zones: roomZones(ground),
      animals,
      groups: counted,
      eggCases: hatching.map(({ eggCase }) => eggCase),
      sales: [],
    },
    ground,
    eggCaseLabels: hatching.map(({ label }) => label),
    leftOut: {
      animals: leftOut + uncounted,
      eggCases: waiting.flatMap(({ row, eggCase }) => (eggCase ? [] : [row.label])),
    },
  }
}

function profilesOf({ species }: ForecastGround) {
  return new Map([...species].flatMap(([id, { profile }]) => (profile ? [[id, profile] as const] : [])))
}

function learnedOf({ species }: ForecastGround, id: string) {
  return species.get(id)?.learned ?? undefined
}

function roomZones({ zones, today }: ForecastGround): RoomZone[] {
  return [...zones].flatMap(([id, zone]) => {
    const history = historyOfKnownZone(zone)
    if (history.length === 0) return []
    return [{ id, history, futureTemperatureSdC: futureSpreadC([{ zoneId: id, from: today }], zones, today) }]
  })
}

/** Siblings together, as old as they are by the warmth they had and by what was seen of them. */
function groupOf(row: ClutchRow, ground: ForecastGround): RoomGroup | null {
  const input = separationInputOf(row, ground)
  const zoneId = zoneOfClutch(row)
  if (!input || !zoneId || row.headCount.together === 0) return null
  return {
    speciesId: row.speciesId,
    zoneId,
    clutchId: row.id,
    count: row.headCount.together,
    ageEffectiveDays: ageOfClutch(input),
  }
}

/** An egg case as the room forecast takes it; null where no window can be given. */
export function roomEggCaseOf(row: EggCaseRow, ground: ForecastGround): RoomEggCase | null {
  const input = hatchInputOf(row, ground)
  const zoneId = zoneOfEggCase(row)
  if (!input || !zoneId) return null
  const { laid, coldRest, history, fertileShare, nymphs, incubation, profile } = input
  const isAtRestForGood =
    coldRest && !coldRest.endedOn && !coldRest.plannedEndOn && coldRest.startedOn <= ground.today
  if (isAtRestForGood) return null
  const expected = expectedHatch(learnHatch(profile, []), { femaleId: null, order: null }).nymphs
  return {
    speciesId: row.speciesId,
    zoneId,
    history,
    hatch: { laid, coldRest, fertileShare, nymphs, incubation },
    nymphs: nymphs ? { ...expected, mean: nymphs.typical } : expected,
  }
}

/** Where clutches stood, for animals that lived there before they were parted. */
async function loadClutchStays(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, Stay[]>> {
  const rows = await tx.$queryRaw<{ clutchId: string; stays: Stay[] }[]>`
    select s.clutch_id as "clutchId", json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on,
        'until', s.until_on) order by s.from_on, s.until_on nulls last) as stays
    from clutch_housing s where s.workspace_id = ${workspaceId}::uuid group by s.clutch_id`
  return new Map(rows.map(({ clutchId, stays }) => [clutchId, stays]))
}

/**
 * Animals that stand here by themselves, those with the same record as one row. Of an animal that has moulted here
 * only the last moult and where it stood since tell anything, so that is all that has to be the same.
 */
async function listAnimalsAlike(
  tx: Tx,
  workspaceId: WorkspaceId,
  { asOf }: { asOf?: PlainDate },
): Promise<AnimalsAlike[]> {
  const until = asOf ?? '9999-12-31'
  return tx.$queryRaw<AnimalsAlike[]>`
    with here as (${isHere(workspaceId, asOf)}),
    known as (
      select i.id, i.species_id, i.clutch_id, i.sex::text as sex, c.hatched_on,
        case when m.number is null and i.baseline_moults = 0 then (select max(h."on") from hatch h
          where h.workspace_id = c.workspace_id and h.clutch_id = c.id and h."on" <= ${until}::date) end as hatched_until,
        m.number, m."on", m.seen_from, m.final,
        case when m.number is null then i.baseline_on end as baseline_on,
        case when m.number is null then i.baseline_moults else 0 end as baseline_moults,
        case when m.number is null then i.baseline_last_moult_on end as baseline_last_moult_on,
        case when i.adult_since_on <= ${until}::date then i.adult_since_on end as adult_since_on,
        exists (select from look l where l.workspace_id = i.workspace_id and l.individual_id = i.id
          and l.archived_at is null and (l.wing_buds or l.refuses_food) and l.wing_buds and l."on" <= ${until}::date
          and l."on" >= coalesce(m."on", i.baseline_last_moult_on, '-infinity'::date)) as has_wing_buds
      from individual i
      join here on here.id = i.id
      left join clutch c on c.workspace_id = i.workspace_id and c.id = i.clutch_id
      left join lateral (
        select m.number, m."on", m.seen_from, m.final from moult m
        where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null
          and m."on" <= ${until}::date
        order by m.number desc limit 1) m on true
      where i.workspace_id = ${workspaceId}::uuid
    ),
    placed as (
      select k.*, (
        select coalesce(jsonb_agg(jsonb_build_object('zoneId', h.zone_id,
            'from', greatest(h.from_on, coalesce(k.seen_from, k."on"), k.baseline_last_moult_on),
            'until', case when h.until_on <= ${until}::date then h.until_on end) order by h.from_on), '[]')
        from housing h
        where h.workspace_id = ${workspaceId}::uuid and h.individual_id = k.id and h.from_on <= ${until}::date
          and (h.until_on is null or h.until_on > greatest(h.from_on, coalesce(k.seen_from, k."on"), k.baseline_last_moult_on))
        ) as stays
      from known k
    )
    select p.species_id as "speciesId", p.clutch_id as "clutchId", p.sex, p.hatched_on::text as "hatchedOn",
      p.hatched_until::text as "hatchedUntilOn",
      coalesce(p.baseline_on, p."on")::text as "baselineOn", p.baseline_moults as "baselineMoults",
      p.baseline_last_moult_on::text as "baselineLastMoultOn", p.adult_since_on::text as "adultSinceOn",
      case when p.number is null then '[]'::jsonb else jsonb_build_array(jsonb_build_object('number', p.number,
        'on', p."on", 'seenFrom', p.seen_from, 'outcome', 'good', 'final', p.final)) end as moults,
      p.stays, p.has_wing_buds and p.adult_since_on is null as "hasWingBuds", count(*)::int as count
    from placed p
    group by p.species_id, p.clutch_id, p.sex, p.hatched_on, p.hatched_until, p.baseline_on, p.baseline_moults,
      p.baseline_last_moult_on, p.adult_since_on, p.number, p."on", p.seen_from, p.final, p.has_wing_buds, p.stays
    order by p.species_id, p.clutch_id, p.sex, min(p.id::text)`
}

/** Who stands here by itself, now or by the entries up to a day. */
function isHere(workspaceId: WorkspaceId, asOf: PlainDate | undefined): Prisma.Sql {
  if (!asOf)
    return Prisma.sql`
      select i.id from individual i where i.workspace_id = ${workspaceId}::uuid and i.whereabouts = 'single'`
  return Prisma.sql`
    select i.id from individual i
    where i.workspace_id = ${workspaceId}::uuid and 'single' = (
      select x."to" from head_count_entry x
      where x.workspace_id = i.workspace_id and x.individual_id = i.id and x."on" <= ${asOf}::date
      order by x."on" desc, x.id desc limit 1)`
}
