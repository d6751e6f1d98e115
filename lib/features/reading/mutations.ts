import { randomUUID } from 'node:crypto'
import { instantOf } from '@/lib/domain/calendar/instant'
import { summariseDay } from '@/lib/domain/zone/measured-day'
import { checkReadings, type NewReading } from '@/lib/domain/zone/reading-check'
import { readReadingText } from '@/lib/domain/zone/reading-text'
import { readTemperature, sayUnitSlip, unitSlip } from '@/lib/domain/zone/temperature-unit'
import { listHoursOfDays } from '@/lib/features/reading/data'
import type { PastedReadings, ReadingsTaken, TypedReading } from '@/lib/features/reading/schema'
import { requireLook } from '@/lib/features/watch/data'
import { getSetPointOn, lockZone, refuseOutOfUse, requireZone, type ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

export type NewReadings = {
  zoneId: string
  source: 'typed' | 'pasted' | 'sensor'
  /** Oldest first. */
  readings: readonly NewReading[]
}

/**
 * Takes readings of a zone, all or none. One that is there already changes nothing, another value at the same instant
 * replaces it. The zone's row is locked, so that its days are summed up by one at a time.
 * @throws AppError not-found; invalid with every reading that cannot be right
 */
export async function recordReadings(tx: Tx, actor: Actor, taken: NewReadings): Promise<ReadingsTaken> {
  const { scope, workspace } = actor
  const { workspaceId } = workspace
  const { zoneId, source, readings } = taken
  const zone = await lockZone(tx, workspaceId, zoneId)
  refuseOutOfUse(zone)
  refuseBad(readings, zone)
  const json = toJson(readings)
  const changed = await countChanged(tx, workspaceId, { zoneId, json })
  const [from, until] = [readings[0]?.atMs ?? 0, readings.at(-1)?.atMs ?? 0].map((atMs) => new Date(atMs))
  const answer = {
    zone: zoneId,
    received: readings.length,
    added: changed.added,
    replaced: changed.replaced,
    unchanged: readings.length - changed.added - changed.replaced,
    from: (from ?? new Date(0)).toISOString(),
    until: (until ?? new Date(0)).toISOString(),
  }
  if (changed.added + changed.replaced === 0) return answer
  const batch = { workspaceId, id: randomUUID(), zoneId, source, recordedBy: scope.personId }
  await tx.readingBatch.create({
    data: { ...batch, readings: readings.length, fromAt: answer.from, untilAt: answer.until },
  })
  await writeReadings(tx, workspaceId, { zoneId, batchId: batch.id, json })
  const ats = readings.map(({ atMs }) => new Date(atMs))
  await updateDays(tx, workspaceId, { zoneId, timeZone: workspace.timeZone, ats })
  await requireLook(tx, workspaceId, zoneId)
  return answer
}

/** One reading, by the clock on the wall. */
export async function recordTypedReading(tx: Tx, actor: Actor, typed: TypedReading): Promise<ReadingsTaken> {
  const { zoneId, on, time, temperature, unit, humidityPct, isSure = false } = typed
  const { workspaceId, timeZone } = actor.workspace
  const atMs = instantOf(on, time, timeZone)
  const { setPoints } = await requireZone(tx, workspaceId, zoneId)
  const slip = isSure ? null : unitSlip(temperature, unit, getSetPointOn(setPoints, on)?.dayC)
  if (slip)
    throw refuseField(
      'temperature',
      `${sayUnitSlip(slip)} Choose the unit it was read in, or say that it stands.`,
    )
  const temperatureC = readTemperature(temperature, unit)
  try {
    // The question has been asked above, of the figure as it was typed.
    const readings = [{ atMs, temperatureC, humidityPct, isSure: true }]
    return await recordReadings(tx, actor, { zoneId, source: 'typed', readings })
  } catch (error) {
    if (!(error instanceof AppError) || error.fields.length === 0) throw error
    const fields = error.fields.map(({ path, message }) => ({
      path: path
        .replace(/^0\./, '')
        .replace(/^at$/, 'time')
        .replace(/^temperatureC$/, 'temperature'),
      message: /^[a-z]/.test(message) ? `This ${message}` : message,
    }))
    throw new AppError('invalid', 'This reading needs another look.', { fields })
  }
}

/** Everything that was pasted, or nothing. */
export async function recordPastedReadings(
  tx: Tx,
  actor: Actor,
  pasted: PastedReadings,
): Promise<ReadingsTaken> {
  const { workspace } = actor
  const { zoneId, text, unit, isSure } = pasted
  const { setPoints } = await requireZone(tx, workspace.workspaceId, zoneId)
  const ground = { timeZone: workspace.timeZone, unit, isSure, nowMs: Date.now(), setPoints }
  const { readings, bad, slips } = readReadingText(text, ground)
  if (slips > 0) throw refuseField('unit', `${slips} of the figures look as if they were in the other unit.`)
  const first = bad[0]
  if (first)
    throw new AppError('invalid', 'Nothing was saved: some lines need another look.', {
      fields: [{ path: 'text', message: `Line ${first.line}: ${first.message}` }],
    })
  if (readings.length === 0) throw new AppError('invalid', 'There is no reading in it.')
  return recordReadings(tx, actor, { zoneId, source: 'pasted', readings })
}

/** Takes a batch back: what it brought no longer counts. @throws AppError not-found, already-reversed */
export async function archiveReadingBatch(tx: Tx, actor: Actor, batchId: string): Promise<{ id: string }> {
  const { workspaceId, timeZone } = actor.workspace
  const batch = await tx.readingBatch.findUnique({ where: { workspaceId_id: { workspaceId, id: batchId } } })
  if (!batch) throw refuseUnknown('batch of readings')
  const { zoneId } = batch
  refuseOutOfUse(await lockZone(tx, workspaceId, zoneId))
  const now = new Date()
  const taken = await tx.readingBatch.updateMany({
    where: { workspaceId, id: batchId, takenBackAt: null },
    data: { takenBackAt: now },
  })
  if (taken.count === 0)
    throw new AppError('already-reversed', 'These readings have already been taken back.')
  const readings = await tx.reading.findMany({
    where: { workspaceId, batchId, archivedAt: null },
    select: { at: true },
  })
  await tx.reading.updateMany({
    where: { workspaceId, batchId, archivedAt: null },
    data: { archivedAt: now },
  })
  await updateDays(tx, workspaceId, { zoneId, timeZone, ats: readings.map(({ at }) => at) })
  await requireLook(tx, workspaceId, zoneId)
  return { id: batchId }
}

function refuseBad(readings: readonly NewReading[], { setPoints }: ZoneRow): void {
  const problems = checkReadings(readings, { nowMs: Date.now(), setPoints })
  if (problems.length === 0) return
  throw new AppError('invalid', 'Nothing was saved: some readings need another look.', {
    fields: problems.map(({ index, field, message }) => ({ path: `${index}.${field}`, message })),
  })
}

function toJson(readings: readonly NewReading[]): string {
  return JSON.stringify(
    readings.map(({ atMs, temperatureC, humidityPct }) => ({
      at: new Date(atMs),
      c: temperatureC,
      h: humidityPct ?? null,
    })),
  )
}

async function countChanged(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, json }: { zoneId: string; json: string },
): Promise<{ added: number; replaced: number }> {
  const rows = await tx.$queryRaw<{ added: number; replaced: number }[]>`
    select (count(*) filter (where r.at is null))::int as added,
      (count(*) filter (where r.at is not null and (r.archived_at is not null
        or r.temperature_c is distinct from n.c or r.humidity_pct is distinct from n.h)))::int as replaced
    from jsonb_to_recordset(${json}::jsonb) as n(at timestamptz, c float8, h float8)
    left join reading r on r.workspace_id = ${workspaceId}::uuid and r.zone_id = ${zoneId}::uuid and r.at = n.at`
  return rows[0] ?? { added: 0, replaced: 0 }
}

async function writeReadings(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, batchId, json }: { zoneId: string; batchId: string; json: string },
): Promise<void> {
  await tx.$executeRaw`
    insert into reading (workspace_id, zone_id, at, temperature_c, humidity_pct, batch_id)
    select ${workspaceId}::uuid, ${zoneId}::uuid, n.at, n.c, n.h, ${batchId}::uuid
    from jsonb_to_recordset(${json}::jsonb) as n(at timestamptz, c float8, h float8)
    on conflict (workspace_id, zone_id, at) do update
      set temperature_c = excluded.temperature_c, humidity_pct = excluded.humidity_pct,
        batch_id = excluded.batch_id, archived_at = null
      where reading.archived_at is not null or reading.temperature_c is distinct from excluded.temperature_c
        or reading.humidity_pct is distinct from excluded.humidity_pct`
}

/** Sums the touched days up anew, from all their readings. */
async function updateDays(
  tx: Tx,
  workspaceId: WorkspaceId,
  touched: { zoneId: string; timeZone: string; ats: readonly Date[] },
): Promise<void> {
  if (touched.ats.length === 0) return
  const days = await listHoursOfDays(tx, workspaceId, touched)
  const rows = days.map(({ on, hours, minC, maxC, readings, humidityPct }) => {
    const hoursC = Array.from({ length: 24 }, (_, hour) => hours[hour] ?? null)
    const sums =
      readings === 0 ? { meanC: 0, minC: 0, maxC: 0, partsC: [] } : summariseDay(hoursC, { minC, maxC })
    return { on, readings, humidity: humidityPct, hours: hoursC, ...sums }
  })
  await tx.$executeRaw`
    insert into zone_day (workspace_id, zone_id, "on", readings, mean_c, min_c, max_c, humidity_pct, hours_c, parts_c)
    select ${workspaceId}::uuid, ${touched.zoneId}::uuid, d."on", d.readings, d."meanC", d."minC", d."maxC",
      d.humidity, d.hours, d."partsC"
    from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as d("on" date, readings int, "meanC" float8,
      "minC" float8, "maxC" float8, humidity float8, hours jsonb, "partsC" float8[])
    on conflict (workspace_id, zone_id, "on") do update
      set readings = excluded.readings, mean_c = excluded.mean_c, min_c = excluded.min_c, max_c = excluded.max_c,
        humidity_pct = excluded.humidity_pct, hours_c = excluded.hours_c, parts_c = excluded.parts_c`
}
