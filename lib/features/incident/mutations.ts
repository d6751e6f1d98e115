import { randomUUID } from 'node:crypto'
import { isCalled, nextCallMs, nextLookMs } from '@/lib/domain/zone/call'
import { type Measured, MINUTE_MS } from '@/lib/domain/zone/crossing'
import {
  foldIncidents,
  type IncidentChanges,
  type KnownIncident,
  WINDOW_HOURS,
} from '@/lib/domain/zone/incident-fold'
import { FIRST_CHECKS, sayIncident, sayLimit } from '@/lib/domain/zone/incident-words'
import { type IncidentRow, listIncidents, requireIncident } from '@/lib/features/incident/data'
import type { NoteIncident, TakeIncident } from '@/lib/features/incident/schema'
import {
  isWatched,
  limitsOf,
  listPossibleWatchers,
  loadWatch,
  type Watcher,
  type WatchRow,
} from '@/lib/features/watch/data'
import { lockZone, type ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { env } from '@/lib/platform/env'
import { AppError } from '@/lib/platform/errors'
import { enqueueMail } from '@/lib/platform/jobs'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

type Look = { zoneId: string; nowMs: number }

/**
 * Looks at a watched zone: brings its incidents up to its readings, calls whoever is on watch, and says when to look
 * next. The zone's row is locked, so looks and readings come one after the other; asked twice it does nothing twice.
 * @throws AppError not-found
 */
export async function updateIncidents(tx: Tx, workspace: Workspace, { zoneId, nowMs }: Look): Promise<void> {
  const { workspaceId } = workspace
  const zone = await lockZone(tx, workspaceId, zoneId)
  const watch = await loadWatch(tx, workspaceId, zoneId)
  if (!watch || zone.archivedOn !== null) return dropLook(tx, workspaceId, { zoneId, nowMs })
  const known = await listKnown(tx, workspaceId, { zoneId, nowMs })
  const limits = limitsOf(watch)
  const firstMs = Math.min(nowMs - WINDOW_HOURS * 60 * MINUTE_MS, ...openSince(known))
  const windowFromMs = Math.max(limits.sinceMs, firstMs)
  const readings = await listMeasured(tx, workspaceId, { zoneId, fromMs: windowFromMs })
  const lastMs = zone.lastReading ? Date.parse(zone.lastReading.at) : null
  const changes = foldIncidents({ readings, lastMs, limits, known, windowFromMs, nowMs })
  await writeChanges(tx, workspaceId, { zoneId, nowMs, changes })
  const callsDueMs = await callPeople(tx, workspace, { zone, watch, nowMs })
  const dueMs = nextLookMs({ readings, lastMs, limits, callsDueMs, nowMs })
  const isOver = !isWatched(watch) && callsDueMs.length === 0
  await tx.watchLook.updateMany({
    where: { workspaceId, zoneId },
    data: { dueAt: isOver ? null : new Date(dueMs) },
  })
}

/** A zone out of use is watched no more: what was still going on there is over, and calls nobody. */
async function dropLook(tx: Tx, workspaceId: WorkspaceId, { zoneId, nowMs }: Look): Promise<void> {
  const where = { workspaceId, zoneId, archivedAt: null }
  await tx.zoneIncident.updateMany({
    where: { ...where, endedAt: null },
    data: { endedAt: new Date(nowMs), version: { increment: 1 } },
  })
  await tx.zoneIncident.updateMany({ where, data: { callDueAt: null } })
  await tx.watchLook.updateMany({ where: { workspaceId, zoneId }, data: { dueAt: null } })
}

function openSince(known: readonly KnownIncident[]): number[] {
  return known.filter(({ endedMs }) => endedMs === null).map(({ beganMs }) => beganMs)
}

async function listKnown(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, nowMs }: Look,
): Promise<KnownIncident[]> {
  const from = new Date(nowMs - WINDOW_HOURS * 60 * MINUTE_MS)
  const rows = await tx.$queryRaw<
    (Omit<KnownIncident, 'beganMs' | 'endedMs'> & { beganAt: Date; endedAt: Date | null })[]
  >`
    select i.id, i.kind::text as kind, i.began_at as "beganAt", i.ended_at as "endedAt", i.extreme_c as "extremeC"
    from zone_incident i
    where i.workspace_id = ${workspaceId}::uuid and i.zone_id = ${zoneId}::uuid and i.archived_at is null
      and (i.ended_at is null or i.ended_at >= least(${from}::timestamptz, (select min(o.began_at)
        from zone_incident o where o.workspace_id = i.workspace_id and o.zone_id = i.zone_id
          and o.archived_at is null and o.ended_at is null)))`
  return rows.map(({ beganAt, endedAt, ...row }) => ({
    ...row,
    beganMs: beganAt.getTime(),
    endedMs: endedAt?.getTime() ?? null,
  }))
}

async function listMeasured(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, fromMs }: { zoneId: string; fromMs: number },
): Promise<Measured[]> {
  const rows = await tx.reading.findMany({
    where: { workspaceId, zoneId, archivedAt: null, at: { gte: new Date(fromMs) } },
    select: { at: true, temperatureC: true },
  })
  return rows.map(({ at, temperatureC }) => ({ atMs: at.getTime(), temperatureC }))
}

type Writing = Look & { changes: IncidentChanges }

/** What is withdrawn goes first, so that no two of a kind ever stand over one time. */
async function writeChanges(
  tx: Tx,
  workspaceId: WorkspaceId,
  { zoneId, nowMs, changes }: Writing,
): Promise<void> {
  const { withdrawn, changed, begun } = changes
  if (withdrawn.length > 0)
    await tx.zoneIncident.updateMany({
      where: { workspaceId, id: { in: withdrawn } },
      data: { archivedAt: new Date(nowMs), callDueAt: null, version: { increment: 1 } },
    })
  for (const { id, beganMs, endedMs, extremeC } of changed)
    await tx.zoneIncident.updateMany({
      where: { workspaceId, id },
      data: { beganAt: new Date(beganMs), endedAt: toDate(endedMs), extremeC, version: { increment: 1 } },
    })
  if (begun.length > 0)
    await tx.zoneIncident.createMany({
      data: begun.map(({ kind, beganMs, endedMs, extremeC, limitC }) => ({
        ...{ workspaceId, id: randomUUID(), zoneId, kind, extremeC, limitC },
        beganAt: new Date(beganMs),
        endedAt: toDate(endedMs),
        callDueAt: isCalled({ kind, endedMs }, nowMs) ? new Date(nowMs) : null,
      })),
    })
}

function toDate(atMs: number | null): Date | null {
  return atMs === null ? null : new Date(atMs)
}

type Calling = { zone: ZoneRow; watch: WatchRow; nowMs: number }

const MOST_CALLING = 100

/** Writes to everybody on watch about what nobody has taken, and answers when the next calls are due. */
async function callPeople(tx: Tx, workspace: Workspace, { zone, watch, nowMs }: Calling): Promise<number[]> {
  const { workspaceId } = workspace
  const recent = await listIncidents(tx, workspaceId, {
    zoneId: zone.id,
    isCalling: true,
    limit: MOST_CALLING,
  })
  const calling = recent.flatMap((incident) =>
    incident.callDueAt ? [{ incident, dueAt: incident.callDueAt }] : [],
  )
  const due = calling.filter(({ dueAt }) => dueAt.getTime() <= nowMs)
  const later = calling.filter(({ dueAt }) => dueAt.getTime() > nowMs).map(({ dueAt }) => dueAt.getTime())
  if (due.length === 0) return later
  const people = await listCalled(tx, workspaceId, watch)
  const next: number[] = []
  for (const { incident } of due) {
    for (const { email } of people) await writeCall(tx, workspace, { incident, email })
    const nextMs = nextCallMs({ kind: incident.kind, endedMs: incident.endedAt?.getTime() ?? null }, nowMs)
    await tx.zoneIncident.updateMany({
      where: { workspaceId, id: incident.id },
      data: { callDueAt: toDate(nextMs), calls: { increment: 1 } },
    })
    if (nextMs !== null) next.push(nextMs)
  }
  return [...later, ...next]
}

/** Those on watch; the owners, where none of them works here any more. */
async function listCalled(tx: Tx, workspaceId: WorkspaceId, { watchers }: WatchRow): Promise<Watcher[]> {
  const possible = await listPossibleWatchers(tx, workspaceId)
  const called = possible.filter(({ personId }) => watchers.includes(personId))
  return called.length > 0 ? called : possible.filter(({ role }) => role === 'owner')
}

async function writeCall(
  tx: Tx,
  workspace: Workspace,
  { incident, email }: { incident: IncidentRow; email: string },
): Promise<void> {
  const { workspaceId, slug, temperatureUnit, name } = workspace
  const address = new URL(`/w/${slug}/incidents/${incident.id}`, env().PUBLIC_ADDRESS).href
  const over = incident.endedAt ? 'It is over for now, and nobody has looked yet. ' : ''
  const mail = await tx.mailMessage.create({
    data: {
      workspaceId,
      toAddress: email,
      subject: sayIncident(incident, temperatureUnit),
      body: `${name}: ${incident.zoneName} ${sayLimit(incident, temperatureUnit)}. ${over}\n\nFirst: ${FIRST_CHECKS[incident.kind][0]}\n\n${address}\n\nThis is sent again until somebody says there that they look after it.`,
    },
    select: { id: true },
  })
  await enqueueMail(tx, workspaceId, mail.id)
}

/** Somebody looks after it: nobody is called any more. @throws AppError not-found, already-recorded */
export async function recordTaking(
  tx: Tx,
  { scope, workspace }: Actor,
  { id, note }: TakeIncident,
): Promise<{ id: string }> {
  const { workspaceId } = workspace
  const taken = await tx.zoneIncident.updateMany({
    where: { workspaceId, id, takenAt: null, archivedAt: null },
    data: {
      takenAt: new Date(),
      takenBy: scope.personId,
      callDueAt: null,
      ...(note ? { note } : {}),
      version: { increment: 1 },
    },
  })
  if (taken.count > 0) return { id }
  const { takenByName } = await requireIncident(tx, workspaceId, id)
  throw new AppError('already-recorded', `${takenByName ?? 'Somebody'} looks after it already.`)
}

/** What was found and done. @throws AppError not-found; stale when someone else wrote first */
export async function updateIncidentNote(
  tx: Tx,
  workspaceId: WorkspaceId,
  note: NoteIncident,
): Promise<void> {
  const changed = await tx.zoneIncident.updateMany({
    where: { workspaceId, id: note.id, version: note.version, archivedAt: null },
    data: { note: note.note, version: { increment: 1 } },
  })
  if (changed.count > 0) return
  const present = await requireIncident(tx, workspaceId, note.id)
  throw new AppError('stale', 'Someone else wrote there meanwhile.', {
    present: { note: present.note, version: present.version },
  })
}
