import { addDays, dayNumber, type PlainDate } from '@/lib/domain/calendar/date'
import type { JarMove } from '@/lib/domain/culture/jar-law'
import { type RoomShelf, workOutShelf } from '@/lib/domain/culture/room-shelf'
import type { JarRecord } from '@/lib/domain/culture/shelf'
import { meanTemperatureC } from '@/lib/domain/development/temperature-spread'
import type { RoomLine } from '@/lib/domain/prey/kept-line'
import { historyOfKnownZone } from '@/lib/domain/zone/history'
import { listPreyLines } from '@/lib/features/prey/data'
import { listZones, type ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type HarvestRow = {
  id: string
  on: PlainDate
  count: number
  low: number | null
  high: number | null
  measure: 'about' | 'weighed' | 'counted'
  version: number
}
export type CultureRow = Omit<JarRecord, 'harvests' | 'moves' | 'starters'> & {
  moves: JarMove[]
  /** Flies that were put in; null where nobody counted them. */
  starters: number | null
  bought: boolean
  end: 'discarded' | 'sold' | null
  notes: string
  version: number
  harvests: HarvestRow[]
}

export type CultureFilter = {
  ids?: readonly string[]
  line?: string | undefined
  /** Standing ones, or those that ended. */
  state?: 'standing' | 'ended' | undefined
  /** Standing ones, and those that ended on or after this day. */
  endedSince?: PlainDate
  after?: string | undefined
  limit?: number
  /** Only what had been recorded of their own days by then. */
  asOf?: PlainDate | undefined
}

/** Jars with their harvests, in the order in which they were recorded. One statement. */
export function listCultures(
  tx: Tx,
  workspaceId: WorkspaceId,
  filter: CultureFilter = {},
): Promise<CultureRow[]> {
  const upTo = filter.asOf ? Prisma.sql`and h."on" <= ${filter.asOf}::date` : Prisma.empty
  return tx.$queryRaw<CultureRow[]>`
    select c.id, c.label, c.slug as line, c.zone_id as "zoneId", c.shelf, c.started_on::text as "startedOn",
      c.starters_from as "startersFrom", c.bought, c.crashed_on::text as "crashedOn",
      c.mites_on::text as "mitesOn", c.mould_on::text as "mouldOn", c.ended_on::text as "endedOn",
      c."end"::text as "end", c.notes, c.version, c.starters,
      (select coalesce(json_agg(json_build_object('on', v."on", 'fromZoneId', v.from_zone_id,
          'toZoneId', v.to_zone_id) order by v."on"), '[]')
        from culture_move v where v.workspace_id = c.workspace_id and v.culture_id = c.id
          and v.from_zone_id <> v.to_zone_id) as moves,
      (select coalesce(json_agg(json_build_object('id', h.id, 'on', h."on", 'count', h.count, 'low', h.low,
          'high', h.high, 'measure', h.measure, 'version', h.version) order by h."on", h.id), '[]')
        from harvest h where h.workspace_id = c.workspace_id and h.culture_id = c.id
          and h.archived_at is null ${upTo}) as harvests
    from culture c where c.workspace_id = ${workspaceId}::uuid ${conditionsOf(filter)}
    order by c.id limit ${filter.limit ?? 5000}`
}

function conditionsOf({ ids, line, state, endedSince, after, asOf }: CultureFilter): Prisma.Sql {
  const conditions = [
    ids && Prisma.sql`and c.id = any(${[...ids]}::uuid[])`,
    line && Prisma.sql`and c.slug = ${line}`,
    state === 'standing' && Prisma.sql`and c.ended_on is null`,
    state === 'ended' && Prisma.sql`and c.ended_on is not null`,
    endedSince && Prisma.sql`and (c.ended_on is null or c.ended_on >= ${endedSince}::date)`,
    after && Prisma.sql`and c.id > ${after}::uuid`,
    asOf && Prisma.sql`and c.started_on <= ${asOf}::date`,
  ].filter((condition) => condition instanceof Prisma.Sql)
  return conditions.length > 0 ? Prisma.join(conditions, ' ') : Prisma.empty
}

/**
 * One jar with its harvests.
 * @throws AppError not-found
 */
export async function requireCulture(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<CultureRow> {
  const [row] = await listCultures(tx, workspaceId, { ids: [id] })
  if (!row) throw refuseUnknown('culture')
  return row
}

export type LoadedShelf = RoomShelf<CultureRow> & {
  lines: RoomLine[]
  zones: ZoneRow[]
  jars: CultureRow[]
  temperatureC: Map<string, number>
}

/** A year is enough to learn from; older jars stood in another room by now. */
const LEARNED_DAYS = 365
const AHEAD_DAYS = 26 * 7

/** Lines, jars and what is expected of them, in four statements. */
export async function loadShelf(
  tx: Tx,
  workspace: Workspace,
  { days = AHEAD_DAYS }: { days?: number } = {},
): Promise<LoadedShelf> {
  const lines = await listPreyLines(tx, workspace.workspaceId)
  const zones = await listZones(tx, workspace.workspaceId, true)
  const jars = await listRecentCultures(tx, workspace)
  const countedOn = await loadLastCounts(tx, workspace.workspaceId)
  return { ...workOutJars({ lines, zones, jars, days, countedOn }, workspace.today), lines, zones, jars }
}

/** The day on which flies of each line were last counted. */
async function loadLastCounts(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, PlainDate>> {
  const rows = await tx.$queryRaw<{ slug: string; on: PlainDate }[]>`
    select c.slug, max(c."on")::text as "on" from prey_count c
    where c.workspace_id = ${workspaceId}::uuid group by c.slug`
  return new Map(rows.map(({ slug, on }) => [slug, on]))
}

/** Jars that stand, and those of the last year, which are learned from. */
export function listRecentCultures(tx: Tx, { workspaceId, today }: Workspace): Promise<CultureRow[]> {
  return listCultures(tx, workspaceId, { endedSince: addDays(today, -LEARNED_DAYS) })
}

type JarGround = {
  lines: readonly RoomLine[]
  zones: Iterable<Pick<ZoneRow, 'id' | 'setPoints'>>
  jars: readonly CultureRow[]
  days: number
  /** When flies of a line were last counted. */
  countedOn?: ReadonlyMap<string, PlainDate>
}

/** What is expected of jars that were loaded, in the warmth of their zones. */
export function workOutJars(
  { lines, zones, jars, days, countedOn }: JarGround,
  today: PlainDate,
): RoomShelf<CultureRow> & { temperatureC: Map<string, number> } {
  const temperatureC = temperaturesOf(zones, today)
  return { ...workOutShelf({ lines, jars, temperatureC, today, days, countedOn }), temperatureC }
}

const SETTLED_DAYS = 28

/** How warm each zone is set to be around today; none where nobody said. */
export function temperaturesOf(
  zones: Iterable<Pick<ZoneRow, 'id' | 'setPoints'>>,
  today: PlainDate,
): Map<string, number> {
  const now = dayNumber(today)
  return new Map(
    [...zones].flatMap((zone) => {
      const history = historyOfKnownZone({ setPoints: zone.setPoints })
      return history.length === 0
        ? []
        : [[zone.id, meanTemperatureC(history, now - SETTLED_DAYS, now + SETTLED_DAYS)] as const]
    }),
  )
}
