import type { IncidentKind } from '@/lib/domain/zone/incident'
import { INCIDENT_ORDER } from '@/lib/domain/zone/incident-words'
import type { IncidentAnswer } from '@/lib/features/incident/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type IncidentRow = {
  id: string
  zoneId: string
  zoneName: string
  kind: IncidentKind
  beganAt: Date
  endedAt: Date | null
  extremeC: number | null
  limitC: number | null
  callDueAt: Date | null
  calls: number
  takenAt: Date | null
  takenByName: string | null
  note: string
  version: number
}

const HOUR_MS = 3_600_000
/** So long after the end nothing that stood there travels. */
export const REST_HOURS = 48

type IncidentFilter = {
  ids?: readonly string[]
  zoneId?: string
  isOpen?: boolean
  /** What still wants somebody: not taken, or not over. */
  isPressing?: boolean
  /** Of whom somebody is still to be called. */
  isCalling?: boolean
  after?: string
  limit: number
}

/** Incidents, newest first: one statement. */
export function listIncidents(
  tx: Tx,
  workspaceId: WorkspaceId,
  filter: IncidentFilter,
): Promise<IncidentRow[]> {
  return tx.$queryRaw<IncidentRow[]>(selectIncidents(workspaceId, filter))
}

function selectIncidents(workspaceId: WorkspaceId, filter: IncidentFilter): Prisma.Sql {
  return Prisma.sql`
    select i.id, i.zone_id as "zoneId", z.name as "zoneName", i.kind::text as kind, i.began_at as "beganAt",
      i.ended_at as "endedAt", i.extreme_c as "extremeC", i.limit_c as "limitC", i.call_due_at as "callDueAt",
      i.calls, i.taken_at as "takenAt", m.display_name as "takenByName", i.note, i.version
    from zone_incident i
    join zone z on z.workspace_id = i.workspace_id and z.id = i.zone_id
    left join membership m on m.workspace_id = i.workspace_id and m.person_id = i.taken_by
    where i.workspace_id = ${workspaceId}::uuid and i.archived_at is null ${conditionsOf(filter)}
    order by i.id desc limit ${filter.limit}`
}

function conditionsOf({ ids, zoneId, isOpen, isPressing, isCalling, after }: IncidentFilter): Prisma.Sql {
  const conditions = [
    ids && Prisma.sql`and i.id = any(${[...ids]}::uuid[])`,
    zoneId && Prisma.sql`and i.zone_id = ${zoneId}::uuid`,
    isOpen === true && Prisma.sql`and i.ended_at is null`,
    isOpen === false && Prisma.sql`and i.ended_at is not null`,
    isPressing &&
      Prisma.sql`and (i.ended_at is null or (i.taken_at is null
      and i.ended_at > now() - make_interval(hours => ${REST_HOURS}::int)))`,
    isCalling && Prisma.sql`and i.call_due_at is not null`,
    after && Prisma.sql`and i.id < ${after}::uuid`,
  ].filter((condition): condition is Prisma.Sql => typeof condition === 'object')
  return conditions.length === 0 ? Prisma.empty : Prisma.join(conditions, ' ')
}

const MOST_PRESSING = 20

/** What wants somebody now, the most urgent first. */
export async function listPressing(tx: Tx, workspaceId: WorkspaceId): Promise<IncidentRow[]> {
  return inUrgency(await tx.$queryRaw<IncidentRow[]>(selectPressing(workspaceId)))
}

/** The same for a statement that asks for more than them; what it answers is read by `readPressing`. */
export function selectPressing(workspaceId: WorkspaceId): Prisma.Sql {
  return selectIncidents(workspaceId, { isPressing: true, limit: MOST_PRESSING })
}

/** As JSON has it: instants are texts. */
export type ToldIncident = {
  [Key in keyof IncidentRow]: Date extends IncidentRow[Key]
    ? string | Extract<IncidentRow[Key], null>
    : IncidentRow[Key]
}

export function readPressing(told: readonly ToldIncident[]): IncidentRow[] {
  const instant = (text: string | null) => (text === null ? null : new Date(text))
  return inUrgency(
    told.map(({ beganAt, endedAt, callDueAt, takenAt, ...row }) => ({
      ...row,
      beganAt: new Date(beganAt),
      endedAt: instant(endedAt),
      callDueAt: instant(callDueAt),
      takenAt: instant(takenAt),
    })),
  )
}

function inUrgency(rows: readonly IncidentRow[]): IncidentRow[] {
  return rows.toSorted(
    (a, b) => INCIDENT_ORDER[a.kind] - INCIDENT_ORDER[b.kind] || a.beganAt.getTime() - b.beganAt.getTime(),
  )
}

/** @throws AppError not-found */
export async function requireIncident(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<IncidentRow> {
  const [row] = await listIncidents(tx, workspaceId, { ids: [id], limit: 1 })
  if (!row) throw refuseUnknown('incident')
  return row
}

/** Until when nothing from there travels; null while it lasts, and after a mere silence. */
export function restUntil({ kind, endedAt }: Pick<IncidentRow, 'kind' | 'endedAt'>): Date | null {
  return kind === 'silent' || endedAt === null ? null : new Date(endedAt.getTime() + REST_HOURS * HOUR_MS)
}

/** An incident as the API says it. */
export function incidentAnswerOf(row: IncidentRow): IncidentAnswer {
  const { id, zoneId, kind, beganAt, endedAt, extremeC, limitC, takenAt, takenByName, note, version } = row
  return {
    ...{ id, zone: zoneId, kind, extremeC, limitC, note, version },
    from: beganAt.toISOString(),
    until: endedAt?.toISOString() ?? null,
    noDispatchUntil: restUntil(row)?.toISOString() ?? null,
    takenAt: takenAt?.toISOString() ?? null,
    takenBy: takenByName,
  }
}
