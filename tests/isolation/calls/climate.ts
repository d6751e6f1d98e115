import { listIncidents, listPressing, requireIncident } from '@/lib/features/incident/data'
import { recordTaking, updateIncidentNote, updateIncidents } from '@/lib/features/incident/mutations'
import {
  listDaysOfReadings,
  listHoursOfDays,
  listReadingBatches,
  listReadings,
} from '@/lib/features/reading/data'
import {
  archiveReadingBatch,
  recordPastedReadings,
  recordReadings,
  recordTypedReading,
} from '@/lib/features/reading/mutations'
import { readingQuery } from '@/lib/features/reading/schema'
import { listPossibleWatchers, loadWatch, loadWatches, requireLook } from '@/lib/features/watch/data'
import { recordWatch } from '@/lib/features/watch/mutations'
import { loadResidents, lockZone } from '@/lib/features/zone/data'
import type { Calls } from './call'

const AT = '2026-03-21T08:00:00Z'

/** Readings of zones, and what is watched. */
export const CLIMATE_READS: Calls = {
  'zone/data lockZone': (tx, { workspace }, id) => lockZone(tx, workspace.workspaceId, id.zone),
  'watch/data loadWatches': (tx, { workspace }) => loadWatches(tx, workspace.workspaceId),
  'watch/data loadWatch': (tx, { workspace }, id) => loadWatch(tx, workspace.workspaceId, id.zone),
  'watch/data listPossibleWatchers': (tx, { workspace }) => listPossibleWatchers(tx, workspace.workspaceId),
  'watch/data requireLook': (tx, { workspace }, id) => requireLook(tx, workspace.workspaceId, id.zone),
  'incident/data listIncidents': (tx, { workspace }, id) =>
    listIncidents(tx, workspace.workspaceId, { zoneId: id.zone, limit: 5 }),
  'incident/data listPressing': (tx, { workspace }) => listPressing(tx, workspace.workspaceId),
  'incident/data requireIncident': (tx, { workspace }, id) =>
    requireIncident(tx, workspace.workspaceId, id.incident),
  'zone/data loadResidents': (tx, { workspace }, id) =>
    loadResidents(tx, workspace.workspaceId, { zoneId: id.zone, from: '2026-03-02', until: '2026-03-04' }),
  'reading/data listReadings': (tx, { workspace }, id) =>
    listReadings(tx, workspace.workspaceId, { zoneId: id.zone, query: readingQuery.parse({}) }),
  'reading/data listDaysOfReadings': (tx, { workspace }, id) =>
    listDaysOfReadings(tx, workspace.workspaceId, { zoneId: id.zone, from: '2026-01-01' }),
  'reading/data listReadingBatches': (tx, { workspace }, id) =>
    listReadingBatches(tx, workspace.workspaceId, { zoneId: id.zone, limit: 5 }),
  'reading/data listHoursOfDays': (tx, { workspace }, id) =>
    listHoursOfDays(tx, workspace.workspaceId, {
      zoneId: id.zone,
      timeZone: 'UTC',
      ats: [new Date('2026-03-20T08:00:00Z')],
    }),
}

export const CLIMATE_WRITES: Calls = {
  'watch/mutations recordWatch': (tx, { workspace }, id) =>
    recordWatch(tx, workspace.workspaceId, {
      zoneId: id.zone,
      version: 1,
      highC: 31,
      delayMinutes: 5,
      watchers: [id.person],
    }),
  'incident/mutations updateIncidents': (tx, { workspace }, id) =>
    updateIncidents(tx, workspace, { zoneId: id.zone, nowMs: Date.now() }),
  'incident/mutations recordTaking': (tx, actor, id) => recordTaking(tx, actor, { id: id.incident }),
  'incident/mutations updateIncidentNote': (tx, { workspace }, id) =>
    updateIncidentNote(tx, workspace.workspaceId, {
      id: id.incident,
      version: 1,
      note: 'the probe fell out',
    }),
  'reading/mutations recordReadings': (tx, actor, id) =>
    recordReadings(tx, actor, {
      zoneId: id.zone,
      source: 'sensor',
      readings: [{ atMs: Date.parse(AT), temperatureC: 25 }],
    }),
  'reading/mutations recordTypedReading': (tx, actor, id) =>
    recordTypedReading(tx, actor, {
      zoneId: id.zone,
      on: '2026-03-21',
      time: '09:30',
      temperature: 25,
      unit: 'celsius',
    }),
  'reading/mutations recordPastedReadings': (tx, actor, id) =>
    recordPastedReadings(tx, actor, { zoneId: id.zone, text: '2026-03-21 10:00 25.2', unit: 'celsius' }),
  'reading/mutations archiveReadingBatch': (tx, actor, id) => archiveReadingBatch(tx, actor, id.readingBatch),
}
