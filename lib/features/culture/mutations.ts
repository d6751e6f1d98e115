import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { saySuspect, suspicionsOn } from '@/lib/domain/culture/shelf'
import { cultureCode } from '@/lib/domain/label/code'
import { type CultureRow, listCultures, requireCulture } from '@/lib/features/culture/data'
import type {
  ArchiveHarvest,
  DiscardMany,
  MoveCulture,
  NewCulture,
  NewDiscard,
  NewHarvest,
  NewMark,
} from '@/lib/features/culture/schema'
import { requireStoredLine } from '@/lib/features/prey/data'
import { listZones } from '@/lib/features/zone/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * Records cultures that were started. Starters from a suspect jar are said, not refused: they are in the jar already.
 * @throws AppError invalid for a day in the future, a line that is not cultured, starters of another line
 */
export async function createCultures(
  tx: Tx,
  { workspace }: Actor,
  started: NewCulture,
): Promise<Warned<string[]>> {
  const { workspaceId, today } = workspace
  refuseFuture('startedOn', started.startedOn, today)
  const { line } = await requireStoredLine(tx, workspaceId, started.line)
  if (line.supply.kind !== 'culture')
    throw refuseField('line', `${line.name} is bought, not cultured. Order packs of it.`)
  const jars = await listCultures(tx, workspaceId, { endedSince: started.startedOn })
  const warnings = checkStarters(started, jars, today)
  const zoneId = await chooseZone(tx, workspaceId, { asked: started.zone, jars })
  const first = await takeNumbers(tx, workspaceId, { name: 'culture', count: started.count })
  const made = await tx.culture.createManyAndReturn({
    data: Array.from({ length: started.count }, (_, index) => ({
      workspaceId,
      label: cultureCode(first + index),
      slug: line.id,
      zoneId,
      shelf: started.shelf,
      startedOn: fromPlainDate(started.startedOn),
      startersFrom: started.startersFrom ?? null,
      bought: started.bought,
      starters: started.starters ?? null,
      notes: started.notes,
    })),
    select: { id: true },
  })
  return { value: made.map(({ id }) => id), warnings }
}

function checkStarters(started: NewCulture, jars: readonly CultureRow[], today: PlainDate): Warning[] {
  if (!started.startersFrom) return []
  const source = jars.find(({ id }) => id === started.startersFrom)
  if (!source) throw refuseUnknown('culture to take starters from')
  if (source.line !== started.line) throw refuseField('startersFrom', `${source.label} is of another line.`)
  if (source.startedOn > started.startedOn)
    throw refuseField('startersFrom', `${source.label} was started later, on ${source.startedOn}.`)
  const suspicion = suspicionsOn(jars, started.startedOn).get(source.id)
  if (!suspicion) return []
  const labelOf = (id: string) => jars.find((jar) => jar.id === id)?.label ?? 'another jar'
  return [
    {
      code: 'suspect-starters',
      message: `Recorded. ${source.label} should not have given starters: ${saySuspect(suspicion, labelOf, today)}`,
    },
  ]
}

async function chooseZone(
  tx: Tx,
  workspaceId: WorkspaceId,
  { asked, jars }: { asked: string | undefined; jars: readonly CultureRow[] },
): Promise<string> {
  const zones = await listZones(tx, workspaceId)
  if (asked) {
    if (!zones.some(({ id }) => id === asked)) throw refuseUnknown('zone')
    return asked
  }
  const usual = jars.at(-1)?.zoneId
  const zone = zones.find(({ id }) => id === usual) ?? zones[0]
  if (!zone) throw refuseField('zone', 'Add a zone first: how warm it is decides when the flies come.')
  return zone.id
}

/** The jar, held until the transaction ends: what is taken out of it and its end follow each other. */
async function lockCulture(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<CultureRow> {
  await tx.$executeRaw`
    select 1 from culture where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for update`
  return requireCulture(tx, workspaceId, id)
}

function refuseWrongDay(jar: CultureRow, { on, today }: { on: PlainDate; today: PlainDate }): void {
  refuseFuture('on', on, today)
  if (on < jar.startedOn)
    throw refuseField('on', `${jar.label} was started on ${writeDay(jar.startedOn, today)}.`)
}

/**
 * Flies taken out of a jar. More than anybody would expect is said, not refused.
 * @throws AppError already-gone once the jar had left
 */
export async function recordHarvest(
  tx: Tx,
  { scope, workspace: { workspaceId, today } }: Actor,
  { culture, ...taken }: NewHarvest & { culture: string },
): Promise<Warned<{ harvest: string; count: number }>> {
  const jar = await lockCulture(tx, workspaceId, culture)
  refuseWrongDay(jar, { on: taken.on, today })
  if (jar.endedOn && taken.on > jar.endedOn) throw goneAlready(jar, today)
  const made = await tx.harvest.create({
    data: {
      workspaceId,
      cultureId: jar.id,
      on: fromPlainDate(taken.on),
      count: taken.count,
      low: taken.low ?? null,
      high: taken.high ?? null,
      measure: taken.measure,
      harvestedBy: scope.personId,
    },
    select: { id: true },
  })
  const warnings: Warning[] = jar.crashedOn
    ? [{ code: 'harvest-of-crashed', message: `Recorded. ${jar.label} is marked as crashed; is it still?` }]
    : []
  return { value: { harvest: made.id, count: taken.count }, warnings }
}

function goneAlready(jar: CultureRow, today: PlainDate): AppError {
  const how = jar.end === 'sold' ? 'sold' : 'discarded'
  return new AppError('already-gone', `${jar.label} was ${how} on ${writeDay(jar.endedOn ?? today, today)}.`)
}

/** Takes a harvest back as if it had not been taken. @throws AppError stale */
export async function archiveHarvest(
  tx: Tx,
  { workspaceId }: Workspace,
  { harvest, version }: ArchiveHarvest,
): Promise<void> {
  const known = await tx.harvest.findUnique({
    where: { workspaceId_id: { workspaceId, id: harvest } },
    select: { id: true },
  })
  if (!known) throw refuseUnknown('harvest')
  const changed = await tx.harvest.updateMany({
    where: { workspaceId, id: harvest, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'This harvest was taken back already.')
}

/**
 * The jar left the shelf: discarded or sold, once.
 * @throws AppError already-gone; invalid before its last harvest
 */
export async function recordDiscard(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { culture, on, as }: NewDiscard & { culture: string },
): Promise<Warned<{ culture: string }>> {
  const jar = await lockCulture(tx, workspaceId, culture)
  refuseWrongDay(jar, { on, today })
  if (jar.endedOn) throw goneAlready(jar, today)
  const last = jar.harvests.at(-1)
  if (last && on < last.on)
    throw refuseField('on', `Flies were taken out of it on ${writeDay(last.on, today)}.`)
  await tx.culture.update({
    where: { workspaceId_id: { workspaceId, id: jar.id } },
    data: { endedOn: fromPlainDate(on), end: as, version: { increment: 1 } },
  })
  const suspicion = as === 'sold' ? await findSuspicion(tx, workspaceId, { jar, on, today }) : null
  const warnings = suspicion
    ? [{ code: 'suspect-sold', message: `Recorded. The buyer should be told: ${suspicion}` }]
    : []
  return { value: { culture: jar.id }, warnings }
}

/** Several jars discarded today. Those that have gone meanwhile are left as they are. */
export async function recordDiscards(
  tx: Tx,
  workspace: Workspace,
  { cultures }: DiscardMany,
): Promise<Warned<{ discarded: number }>> {
  let discarded = 0
  // In one order, so that two who clear the same shelf at once do not wait for each other in a circle.
  for (const culture of [...cultures].sort()) {
    const jar = await lockCulture(tx, workspace.workspaceId, culture)
    if (jar.endedOn) continue
    await recordDiscard(tx, workspace, { culture, on: workspace.today, as: 'discarded' })
    discarded += 1
  }
  const gone = cultures.length - discarded
  const warnings =
    gone === 0
      ? []
      : [{ code: 'some-gone', message: `${writeCount(gone, 'jar')} had left the shelf before.` }]
  return { value: { discarded }, warnings }
}

async function findSuspicion(
  tx: Tx,
  workspaceId: WorkspaceId,
  { jar, on, today }: { jar: CultureRow; on: PlainDate; today: PlainDate },
): Promise<string | null> {
  const jars = await listCultures(tx, workspaceId, { endedSince: on })
  const suspicion = suspicionsOn(jars, on).get(jar.id)
  const labelOf = (id: string) => jars.find((each) => each.id === id)?.label ?? 'another jar'
  return suspicion ? saySuspect(suspicion, labelOf, today) : null
}

const MARK_COLUMNS = { mites: 'mitesOn', mould: 'mouldOn', crash: 'crashedOn' } as const

/**
 * Mites, mould or a crash, seen on a day; or that it was a mistake. Says what follows from mites. Marking what is
 * marked keeps the earlier day, so that two people who saw it say one thing.
 */
export async function recordMark(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { culture, mark, on, isTakenBack }: NewMark & { culture: string },
): Promise<Warned<{ culture: string; suspects: string[] }>> {
  const jar = await lockCulture(tx, workspaceId, culture)
  refuseWrongDay(jar, { on, today })
  const column = MARK_COLUMNS[mark]
  const before = jar[column]
  const day = isTakenBack ? null : before && before < on ? before : on
  await tx.culture.update({
    where: { workspaceId_id: { workspaceId, id: jar.id } },
    data: { [column]: day && fromPlainDate(day), version: { increment: 1 } },
  })
  if (mark !== 'mites') return { value: { culture: jar.id, suspects: [] }, warnings: [] }
  const jars = await listCultures(tx, workspaceId, { endedSince: on })
  const suspicions = suspicionsOn(jars, today)
  const suspects = jars.filter(({ id, endedOn }) => endedOn === null && suspicions.has(id))
  return { value: { culture: jar.id, suspects: suspects.map(({ label }) => label) }, warnings: [] }
}

/**
 * The jar stands elsewhere since a day, or has another note. A move of the day it was started says that it never stood
 * anywhere else. @throws AppError stale; invalid for a day that lies before the last move
 */
export async function updateCulture(
  tx: Tx,
  { scope, workspace: { workspaceId, today } }: Actor,
  { culture, version, zone, shelf, notes, movedOn = today }: MoveCulture,
): Promise<void> {
  const zones = await listZones(tx, workspaceId)
  if (!zones.some(({ id }) => id === zone)) throw refuseUnknown('zone')
  const known = await requireCulture(tx, workspaceId, culture)
  const changed = await tx.culture.updateMany({
    where: { workspaceId, id: culture, version },
    data: { zoneId: zone, shelf, notes, version: { increment: 1 } },
  })
  if (changed.count === 0)
    throw new AppError('stale', 'Somebody else changed this jar meanwhile.', {
      present: { zone: known.zoneId, shelf: known.shelf, notes: known.notes, version: known.version },
    })
  if (zone !== known.zoneId)
    await createMove(tx, workspaceId, { jar: known, zone, on: movedOn, today, by: scope.personId })
}

type Moved = { jar: CultureRow; zone: string; on: PlainDate; today: PlainDate; by: string | null }

/** Two moves of one day are one: where it stood in between was for hours. */
async function createMove(
  tx: Tx,
  workspaceId: WorkspaceId,
  { jar, zone, on, today, by }: Moved,
): Promise<void> {
  refuseFuture('movedOn', on, today)
  if (on < jar.startedOn)
    throw refuseField('movedOn', `${jar.label} was started on ${writeDay(jar.startedOn, today)}.`)
  const last = jar.moves.at(-1)
  if (last && on < last.on)
    throw refuseField('movedOn', `It was moved on ${writeDay(last.on, today)} already; this lies before.`)
  if (!last && on === jar.startedOn) return
  await tx.cultureMove.upsert({
    where: { workspaceId_cultureId_on: { workspaceId, cultureId: jar.id, on: fromPlainDate(on) } },
    create: {
      workspaceId,
      cultureId: jar.id,
      on: fromPlainDate(on),
      fromZoneId: jar.zoneId,
      toZoneId: zone,
      movedBy: by,
    },
    update: { toZoneId: zone, movedBy: by },
  })
}
