import { addDays } from '@/lib/domain/calendar/date'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type ClimateSummary, summariseClimate } from '@/lib/domain/zone/climate-summary'
import type { TemperatureUnit } from '@/lib/domain/zone/temperature-unit'
import { type IncidentRow, listIncidents } from '@/lib/features/incident/data'
import {
  type DayOfReadings,
  listDaysOfReadings,
  listReadingBatches,
  type ReadingBatchRow,
} from '@/lib/features/reading/data'
import { listPossibleWatchers, loadWatch, type Watcher, type WatchRow } from '@/lib/features/watch/data'
import {
  countOccupantsByZone,
  getSetPointOn,
  listZones,
  loadResidents,
  requireZone,
  type SetPoint,
  type ZoneOccupants,
  type ZoneResidents,
  type ZoneRow,
} from '@/lib/features/zone/data'
import type { ZoneAnswer } from '@/lib/features/zone/schema'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type ZoneOnPage = ZoneRow & {
  inForce: SetPoint | undefined
  planned: SetPoint[]
  occupants: ZoneOccupants
}
export type ZonesPage = {
  workspaceName: string
  today: string
  unit: TemperatureUnit
  mayWrite: boolean
  zones: ZoneOnPage[]
}

export async function loadZonesPage(slug: string): Promise<ZonesPage> {
  const scope = await requireScope(slug, 'zone:read')
  return inWorkspace(scope, async (tx, { name, today, temperatureUnit }) => {
    const zones = await listZones(tx, scope.workspaceId)
    const occupants = await countOccupantsByZone(tx, scope.workspaceId)
    return {
      workspaceName: name,
      today,
      unit: temperatureUnit,
      mayWrite: isAllowed(scope.role, 'zone:write'),
      zones: zones.map((zone) => ({
        ...zone,
        inForce: getSetPointOn(zone.setPoints, today),
        planned: zone.setPoints.filter((setPoint) => setPoint.from > today),
        occupants: occupants.get(zone.id) ?? { animals: 0, clutches: 0, eggCases: 0 },
      })),
    }
  })
}

/** A zone as the API says it. */
export function presentZone(
  zone: ZoneRow,
  { watch, today }: { watch: WatchRow | undefined; today: string },
): ZoneAnswer {
  const inForce = getSetPointOn(zone.setPoints, today)
  const { id, name, setPoints, walkingOrder, version, quarantineUntil, lastReading } = zone
  return {
    ...{ id, name, setPoints, walkingOrder, version, quarantineUntil, lastReading },
    setTemperatureC: inForce?.dayC ?? null,
    nightTemperatureC: inForce?.nightC ?? null,
    watch: watch ? presentWatch(watch) : null,
  }
}

function presentWatch({ lowC, highC, delayMinutes, silenceMinutes, watchers, version }: WatchRow) {
  return { lowC, highC, delayMinutes, silenceMinutes, watchers, version }
}

/** How far back the picture of a zone may reach, days. */
export const HISTORY_DAYS = [30, 90, 365] as const
export type HistoryDays = (typeof HISTORY_DAYS)[number]

/** The stretch that an address asks for; anything else is the middle one. */
export function readHistoryDays(asked: string | undefined): HistoryDays {
  return HISTORY_DAYS.find((days) => String(days) === asked) ?? 90
}

const BATCHES_SHOWN = 5
const INCIDENTS_SHOWN = 10

export type ZonePage = {
  zone: ZoneRow
  today: string
  timeZone: string
  unit: TemperatureUnit
  mayWrite: boolean
  inForce: SetPoint | undefined
  from: string
  days: DayOfReadings[]
  summary: ClimateSummary
  residents: ZoneResidents
  batches: ReadingBatchRow[]
  watch: WatchRow | undefined
  /** Who could be called. */
  people: Watcher[]
  incidents: IncidentRow[]
}

/** A zone with what was read in it and what stands there. */
export async function loadZonePage(slug: string, id: string, historyDays: HistoryDays): Promise<ZonePage> {
  return loadPage({ slug, permission: 'zone:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today, timeZone, temperatureUnit } = workspace
    const zoneId = requireIdParam(id)
    const zone = await requireZone(tx, workspaceId, zoneId)
    const from = addDays(today, 1 - historyDays)
    const days = await listDaysOfReadings(tx, workspaceId, { zoneId, from })
    return {
      ...{ zone, today, timeZone, from, days, unit: temperatureUnit },
      mayWrite: isAllowed(scope.role, 'zone:write'),
      inForce: getSetPointOn(zone.setPoints, today),
      summary: summariseClimate(days, zone.setPoints, { days: historyDays }),
      residents: await loadResidents(tx, workspaceId, { zoneId, from: today, until: today }),
      batches: await listReadingBatches(tx, workspaceId, { zoneId, limit: BATCHES_SHOWN }),
      watch: await loadWatch(tx, workspaceId, zoneId),
      people: await listPossibleWatchers(tx, workspaceId),
      incidents: await listIncidents(tx, workspaceId, { zoneId, limit: INCIDENTS_SHOWN }),
    }
  })
}
