import { wallClock } from '@/lib/domain/calendar/instant'
import { isAllowed } from '@/lib/domain/role/permissions'
import { sayIncident, saySpan } from '@/lib/domain/zone/incident-words'
import type { TemperatureUnit } from '@/lib/domain/zone/temperature-unit'
import {
  type IncidentRow,
  listIncidents,
  listPressing,
  requireIncident,
  restUntil,
} from '@/lib/features/incident/data'
import { listReadings } from '@/lib/features/reading/data'
import { loadResidents, type ZoneResidents } from '@/lib/features/zone/data'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

export type Alarm = { id: string; kind: IncidentRow['kind']; said: string; span: string; version: number }
export type AlarmBar = { version: string; alarms: Alarm[] }

/** What nobody has taken yet, for the bar on every open page. The version says whether anything is new. */
export async function loadAlarmBar(slug: string): Promise<AlarmBar> {
  return loadPage({ slug, permission: 'zone:read' }, async ({ tx, workspace }) => {
    const pressing = await listPressing(tx, workspace.workspaceId)
    const untaken = pressing.filter(({ takenAt }) => takenAt === null)
    return {
      version: untaken.map(({ id, version }) => `${id}.${version}`).join('-'),
      alarms: untaken.map((incident) => alarmOf(incident, workspace)),
    }
  })
}

function alarmOf(incident: IncidentRow, { temperatureUnit, timeZone, today }: Workspace): Alarm {
  const { id, kind, version } = incident
  const span = saySpan(spanOf(incident), timeZone, today)
  return { id, kind, version, said: sayIncident(incident, temperatureUnit), span }
}

function spanOf({ beganAt, endedAt }: IncidentRow) {
  return { beganMs: beganAt.getTime(), endedMs: endedAt?.getTime() ?? null }
}

const LIST_LIMIT = 100

export type IncidentsPage = { incidents: (IncidentRow & { span: string; said: string })[]; today: string }

export async function loadIncidentsPage(slug: string): Promise<IncidentsPage> {
  return loadPage({ slug, permission: 'zone:read' }, async ({ tx, workspace }) => {
    const { today, timeZone, temperatureUnit } = workspace
    const rows = await listIncidents(tx, workspace.workspaceId, { limit: LIST_LIMIT })
    const incidents = rows.map((row) => ({
      ...row,
      span: saySpan(spanOf(row), timeZone, today),
      said: sayIncident(row, temperatureUnit),
    }))
    return { incidents, today }
  })
}

/** How much is drawn before and after an incident. */
const AROUND_MS = 3 * 3_600_000
const READINGS_DRAWN = 2000

export type IncidentPage = {
  incident: IncidentRow
  span: string
  residents: ZoneResidents
  readings: { atMs: number; temperatureC: number }[]
  drawn: { fromMs: number; untilMs: number }
  restUntil: Date | null
  today: string
  timeZone: string
  unit: TemperatureUnit
  mayTake: boolean
}

/** One incident with what was read around it and who stood there. */
export async function loadIncidentPage(slug: string, id: string): Promise<IncidentPage> {
  return loadPage({ slug, permission: 'zone:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today, timeZone, temperatureUnit } = workspace
    const incident = await requireIncident(tx, workspaceId, requireIdParam(id))
    const { zoneId, beganAt, endedAt } = incident
    const untilMs = (endedAt?.getTime() ?? Date.now()) + (endedAt ? AROUND_MS : 0)
    const drawn = { fromMs: beganAt.getTime() - AROUND_MS, untilMs }
    const query = {
      from: new Date(drawn.fromMs).toISOString(),
      until: new Date(drawn.untilMs + 1).toISOString(),
      limit: READINGS_DRAWN,
    }
    const { rows } = await listReadings(tx, workspaceId, { zoneId, query })
    const days = {
      from: wallClock(beganAt.getTime(), timeZone).on,
      until: wallClock(endedAt?.getTime() ?? Date.now(), timeZone).on,
    }
    return {
      ...{ incident, drawn, today, timeZone, unit: temperatureUnit },
      restUntil: restUntil(incident),
      span: saySpan(spanOf(incident), timeZone, today),
      residents: await loadResidents(tx, workspaceId, { zoneId, ...days }),
      readings: rows.map(({ at, temperatureC }) => ({ atMs: at.getTime(), temperatureC })),
      mayTake: isAllowed(scope.role, 'incident:take'),
    }
  })
}
