import type { ReadingQuery } from '@/lib/features/reading/schema'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type ReadingRow = { at: Date; temperatureC: number; humidityPct: number | null }

/** Readings of a zone, oldest first; the cursor is the instant of the last one seen. */
export async function listReadings(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, query }: { zoneId: string; query: ReadingQuery },
): Promise<{ rows: ReadingRow[]; nextCursor: string | null }> {
  const { from, until, limit, cursor } = query
  const rows = await tx.reading.findMany({
    where: {
      workspaceId,
      zoneId,
      archivedAt: null,
      AND: [
        { at: { gte: new Date(from ?? 0) } },
        until === undefined ? {} : { at: { lt: new Date(until) } },
        cursor === undefined ? {} : { at: { gt: new Date(cursor) } },
      ],
    },
    select: { at: true, temperatureC: true, humidityPct: true },
    orderBy: { at: 'asc' },
    take: limit + 1,
  })
  const shown = rows.slice(0, limit)
  const nextCursor = rows.length > limit ? (shown.at(-1)?.at.toISOString() ?? null) : null
  return { rows: shown, nextCursor }
}

/** A day of readings as it is summed up and drawn. */
export type DayOfReadings = {
  on: string
  readings: number
  meanC: number
  minC: number
  maxC: number
  humidityPct: number | null
  hoursC: (number | null)[]
}

/** The days of a zone from a day on that have readings, oldest first. */
export function listDaysOfReadings(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, from }: { zoneId: string; from: string },
): Promise<DayOfReadings[]> {
  return tx.$queryRaw<DayOfReadings[]>`
    select d."on"::text as "on", d.readings, d.mean_c as "meanC", d.min_c as "minC", d.max_c as "maxC",
      d.humidity_pct as "humidityPct", d.hours_c as "hoursC"
    from zone_day d
    where d.workspace_id = ${workspaceId}::uuid and d.zone_id = ${zoneId}::uuid and d."on" >= ${from}::date
      and d.readings > 0
    order by d."on"`
}

export type ReadingBatchRow = {
  id: string
  source: 'typed' | 'pasted' | 'sensor'
  readings: number
  fromAt: string
  untilAt: string
  createdAt: string
  takenBackAt: string | null
  recordedBy: string | null
}

/** What was typed and pasted last; a sensor's are too many to be of use. */
export async function listReadingBatches(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, limit }: { zoneId: string; limit: number },
): Promise<ReadingBatchRow[]> {
  const rows = await tx.readingBatch.findMany({
    where: { workspaceId, zoneId, source: { not: 'sensor' } },
    orderBy: { createdAt: 'desc' },
    take: limit,
    include: { recorder: { select: { displayName: true } } },
  })
  return rows.map((row) => ({
    id: row.id,
    source: row.source,
    readings: row.readings,
    fromAt: row.fromAt.toISOString(),
    untilAt: row.untilAt.toISOString(),
    createdAt: row.createdAt.toISOString(),
    takenBackAt: row.takenBackAt?.toISOString() ?? null,
    recordedBy: row.recorder?.displayName ?? null,
  }))
}

/** The hourly means of every local day on which one of the given instants lies. */
export function listHoursOfDays(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, timeZone, ats }: { zoneId: string; timeZone: string; ats: readonly Date[] },
): Promise<
  {
    on: string
    hours: Record<string, number>
    minC: number
    maxC: number
    readings: number
    humidityPct: number | null
  }[]
> {
  const instants = JSON.stringify(ats)
  return tx.$queryRaw`
    with day as (
      select distinct (value::timestamptz at time zone ${timeZone})::date as "on"
      from jsonb_array_elements_text(${instants}::jsonb)
    ), hour as (
      select day."on", extract(hour from r.at at time zone ${timeZone})::int as hour, avg(r.temperature_c) as mean_c,
        min(r.temperature_c) as min_c, max(r.temperature_c) as max_c, count(*)::int as readings,
        avg(r.humidity_pct) as humidity_pct
      from day join reading r on r.at >= day."on"::timestamp at time zone ${timeZone}
        and r.at < (day."on" + 1)::timestamp at time zone ${timeZone}
      where r.workspace_id = ${workspaceId}::uuid and r.zone_id = ${zoneId}::uuid and r.archived_at is null
      group by 1, 2
    )
    select day."on"::text as "on",
      coalesce(jsonb_object_agg(hour.hour, round(hour.mean_c::numeric, 3)) filter (where hour.hour is not null), '{}')
        as hours,
      min(hour.min_c) as "minC", max(hour.max_c) as "maxC", coalesce(sum(hour.readings), 0)::int as readings,
      avg(hour.humidity_pct) as "humidityPct"
    from day left join hour on hour."on" = day."on"
    group by day."on"`
}
