import { addDays, compareDates, type PlainDate } from '../calendar/date'
import type { TemperatureHistory, TemperatureSegment } from '../development/clock'
import { historyOfStays } from '../development/temperature-history'
import type { DayHeat } from './incident'
import { type MeasuredDay, temperaturesOfDay } from './measured-day'

/** The temperature a zone is set to from a day on, °C; the night only where it differs. */
export type ZoneSetPoint = { from: PlainDate; dayC: number; nightC: number | null }

/** A stay in a zone; `until` is the day of the move away, null while it lasts. */
export type Stay = { zoneId: string; from: PlainDate; until: PlainDate | null }

/** What is known of a zone: what it was set to, and, where somebody measured, what it was. */
export type KnownZone = {
  setPoints: readonly ZoneSetPoint[]
  /** Oldest first. */
  days?: readonly MeasuredDay[]
  /** First day on which what stands in it may leave again. */
  quarantineUntil?: PlainDate | null
  /** Times of too much warmth or cold that are not long past. */
  incidents?: readonly DayHeat[]
}

export type ZonesById = ReadonlyMap<string, KnownZone>

/**
 * A zone's temperatures as stretches of days, each until the next one. Measured days are stretches of their own, and
 * what was not read of them is taken as set; between and after them the set temperature holds. O(n log n).
 */
export function historyOfZone(
  setPoints: readonly ZoneSetPoint[],
  days: readonly MeasuredDay[] = [],
): TemperatureSegment[] {
  const sorted = [...setPoints].sort((a, b) => compareDates(a.from, b.from))
  const measured = new Map(days.map((day) => [day.on, day]))
  const changes = listChanges(sorted, days)
  return changes.flatMap((from, index) => {
    const set = setOn(sorted, from)
    const until = changes[index + 1] ?? null
    const day = measured.get(from)
    if (day) return [measuredSegment(day, set)]
    return set
      ? [{ from, until, dayC: set.dayC, ...(set.nightC === null ? {} : { nightC: set.nightC }) }]
      : []
  })
}

/** The days on which the temperature changes or may change, each once, in order. */
function listChanges(setPoints: readonly ZoneSetPoint[], days: readonly MeasuredDay[]): PlainDate[] {
  const first = days[0]
  const changes = new Set(setPoints.map(({ from }) => from))
  // Before the first stretch the nearest one holds: that should be what was set, not one day's weather.
  if (first && !setPoints.some(({ from }) => from < first.on)) changes.add(addDays(first.on, -1))
  for (const { on } of days) changes.add(on).add(addDays(on, 1))
  return [...changes].sort(compareDates)
}

function setOn(sorted: readonly ZoneSetPoint[], on: PlainDate): ZoneSetPoint | undefined {
  return sorted.findLast(({ from }) => from <= on) ?? sorted[0]
}

function measuredSegment(day: MeasuredDay, set: ZoneSetPoint | undefined): TemperatureSegment {
  const partsC = temperaturesOfDay(day, set)
  const dayC = partsC.reduce((sum, partC) => sum + partC, 0) / partsC.length
  return { from: day.on, until: addDays(day.on, 1), dayC, partsC }
}

// Many animals stand in one zone, and its stretches are the same for all of them.
const known = new WeakMap<KnownZone, TemperatureSegment[]>()

/** The same for a zone as it was loaded, worked out once. */
export function historyOfKnownZone(zone: KnownZone): TemperatureHistory {
  const before = known.get(zone)
  if (before) return before
  const history = historyOfZone(zone.setPoints, zone.days)
  known.set(zone, history)
  return history
}

/**
 * The temperatures lived through over several stays, oldest first, each taken from its zone. Empty where no zone
 * of them has a temperature: then nothing can be forecast, and nothing is made up.
 */
export function historyOfZoneStays(stays: readonly Stay[], zones: ZonesById): TemperatureHistory {
  const lived = [...stays]
    .sort((a, b) => compareDates(a.from, b.from))
    .map(({ zoneId, from, until }) => ({ from, until, history: historyIn(zones.get(zoneId)) }))
    .filter((stay) => stay.history.length > 0)
  return lived.length === 0 ? [] : historyOfStays(lived)
}

function historyIn(zone: KnownZone | undefined): TemperatureHistory {
  return zone ? historyOfKnownZone(zone) : []
}

/** What was known of stays on a day: later ones are not yet, a move after it has not happened. */
export function staysAsOf<S extends Stay>(stays: readonly S[], asOf: PlainDate): S[] {
  return stays
    .filter((stay) => stay.from <= asOf)
    .map((stay) => ({ ...stay, until: stay.until !== null && stay.until <= asOf ? stay.until : null }))
}

/**
 * The zones as they were known on a day: what they were set to later was not yet, nor what was read later. Null: as
 * they are known now.
 */
export function zonesAsOf(zones: ZonesById, asOf: PlainDate | null): ZonesById {
  if (asOf === null) return zones
  const knownBy = (setPoints: readonly ZoneSetPoint[]) => {
    const before = setPoints.filter((setPoint) => setPoint.from <= asOf)
    return before.length > 0 ? before : setPoints.slice(0, 1)
  }
  return new Map(
    [...zones].map(([id, zone]) => [
      id,
      {
        ...zone,
        setPoints: knownBy(zone.setPoints),
        days: (zone.days ?? []).filter(({ on }) => on <= asOf),
      },
    ]),
  )
}
