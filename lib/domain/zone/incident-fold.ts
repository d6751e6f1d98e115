import {
  type Crossing,
  extremeOf,
  listCrossings,
  type Measured,
  silentSince,
  type WatchLimits,
} from './crossing'
import type { IncidentKind } from './incident'

/** An incident as it is on record. */
export type KnownIncident = {
  id: string
  kind: IncidentKind
  beganMs: number
  endedMs: number | null
  extremeC: number | null
}

export type IncidentSpan = Pick<KnownIncident, 'kind' | 'beganMs' | 'endedMs' | 'extremeC'>

/** What has to be written so that the record says what the readings say. */
export type IncidentChanges = {
  /** No longer borne out by any reading, or part of another one. */
  withdrawn: string[]
  changed: (IncidentSpan & { id: string })[]
  begun: (IncidentSpan & { limitC: number | null })[]
}

export type FoldInput = {
  /** Those of the window, in any order. */
  readings: readonly Measured[]
  /** Newest reading of all, null where there is none. */
  lastMs: number | null
  limits: WatchLimits
  /** Those on record that touch the window. */
  known: readonly KnownIncident[]
  /** Nothing older was looked at: what began before is only ended, never taken away. */
  windowFromMs: number
  nowMs: number
}

/** How far back readings may still come in late and count. */
export const WINDOW_HOURS = 48

/**
 * Brings the incidents on record up to what the readings say now. The same however often it is asked, and in whatever
 * order the readings came; a time of one kind is one incident. O(n log n + n·m).
 */
export function foldIncidents(input: FoldInput): IncidentChanges {
  const changes: IncidentChanges = { withdrawn: [], changed: [], begun: [] }
  const taken = new Set<string>()
  const { readings, limits, nowMs } = input
  for (const crossing of listCrossings(readings, limits, nowMs))
    foldCrossing(input, crossing, { changes, taken })
  for (const incident of input.known)
    if (incident.kind !== 'silent' && !taken.has(incident.id)) foldUnborne(input, incident, changes)
  foldSilence(input, changes)
  return changes
}

type Folding = { changes: IncidentChanges; taken: Set<string> }

function foldCrossing(input: FoldInput, crossing: Crossing, { changes, taken }: Folding): void {
  const [first, ...others] = input.known
    .filter(({ id, kind }) => kind === crossing.kind && !taken.has(id))
    .filter((incident) => overlap(incident, crossing))
    .sort((a, b) => a.beganMs - b.beganMs)
  for (const { id } of others) {
    taken.add(id)
    changes.withdrawn.push(id)
  }
  if (!first) {
    changes.begun.push(crossing)
    return
  }
  taken.add(first.id)
  const next = continued(first, crossing, input.windowFromMs)
  if (!isSame(first, next)) changes.changed.push({ id: first.id, ...next })
}

/** What began before the window keeps its beginning, and how far it went there. */
function continued(first: KnownIncident, crossing: Crossing, windowFromMs: number): IncidentSpan {
  const { kind, beganMs, endedMs, extremeC } = crossing
  if (first.beganMs >= windowFromMs) return { kind, beganMs, endedMs, extremeC }
  return {
    kind,
    beganMs: Math.min(first.beganMs, beganMs),
    endedMs,
    extremeC: extremeOf(kind, first.extremeC ?? extremeC, extremeC),
  }
}

function foldUnborne(
  { windowFromMs, nowMs }: FoldInput,
  { id, kind, beganMs, endedMs, extremeC }: KnownIncident,
  changes: IncidentChanges,
): void {
  if (beganMs >= windowFromMs) changes.withdrawn.push(id)
  else if (endedMs === null)
    changes.changed.push({ id, kind, beganMs, endedMs: Math.max(nowMs, beganMs), extremeC })
}

/** A silence is what it was like at the time: readings that come later end it, and never take it away. */
function foldSilence({ readings, lastMs, limits, known, nowMs }: FoldInput, changes: IncidentChanges): void {
  const silences = known.filter(({ kind }) => kind === 'silent')
  const open = silences.find(({ endedMs }) => endedMs === null)
  const since = silentSince(lastMs, limits, nowMs)
  if (open) {
    const isOver = limits.silenceMinutes === null || (lastMs !== null && lastMs > open.beganMs)
    if (isOver)
      changes.changed.push({ ...spanOf(open), id: open.id, endedMs: endOfSilence(open, readings, nowMs) })
    return
  }
  const after = Math.max(...silences.map(({ endedMs }) => (endedMs ?? nowMs) + 1), since ?? 0)
  if (since === null || silentSince(after, limits, nowMs) === null) return
  changes.begun.push({ kind: 'silent', beganMs: after, endedMs: null, extremeC: null, limitC: null })
}

function endOfSilence({ beganMs }: KnownIncident, readings: readonly Measured[], nowMs: number): number {
  const later = readings.map(({ atMs }) => atMs).filter((atMs) => atMs > beganMs)
  return later.length === 0 ? Math.max(nowMs, beganMs) : Math.min(...later)
}

function spanOf({ kind, beganMs, endedMs, extremeC }: KnownIncident): IncidentSpan {
  return { kind, beganMs, endedMs, extremeC }
}

function overlap(one: { beganMs: number; endedMs: number | null }, other: typeof one): boolean {
  const [end, otherEnd] = [one.endedMs ?? Number.POSITIVE_INFINITY, other.endedMs ?? Number.POSITIVE_INFINITY]
  return one.beganMs <= otherEnd && other.beganMs <= end
}

function isSame(one: IncidentSpan, other: IncidentSpan): boolean {
  return one.beganMs === other.beganMs && one.endedMs === other.endedMs && one.extremeC === other.extremeC
}
