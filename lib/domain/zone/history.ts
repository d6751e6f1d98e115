import { compareDates, type PlainDate } from '../calendar/date'
import type { TemperatureHistory, TemperatureSegment } from '../development/clock'
import { historyOfStays } from '../development/temperature-history'

/** The temperature a zone is set to from a day on, °C; the night only where it differs. */
export type ZoneSetPoint = { from: PlainDate; dayC: number; nightC: number | null }

/** A stay in a zone; `until` is the day of the move away, null while it lasts. */
export type Stay = { zoneId: string; from: PlainDate; until: PlainDate | null }

export type ZonesById = ReadonlyMap<string, { setPoints: readonly ZoneSetPoint[] }>

/** A zone's set points as stretches of days, each until the next one. O(n log n). */
export function historyOfZone(setPoints: readonly ZoneSetPoint[]): TemperatureSegment[] {
  const sorted = [...setPoints].sort((a, b) => compareDates(a.from, b.from))
  return sorted.map(({ from, dayC, nightC }, index) => ({
    from,
    until: sorted[index + 1]?.from ?? null,
    dayC,
    ...(nightC === null ? {} : { nightC }),
  }))
}

/**
 * The temperatures lived through over several stays, oldest first, each taken from its zone. Empty where no zone
 * of them has a temperature: then nothing can be forecast, and nothing is made up.
 */
export function historyOfZoneStays(stays: readonly Stay[], zones: ZonesById): TemperatureHistory {
  const known = [...stays]
    .sort((a, b) => compareDates(a.from, b.from))
    .map(({ zoneId, from, until }) => ({
      from,
      until,
      history: historyOfZone(zones.get(zoneId)?.setPoints ?? []),
    }))
    .filter((stay) => stay.history.length > 0)
  return known.length === 0 ? [] : historyOfStays(known)
}

/** What was known of stays on a day: later ones are not yet, a move after it has not happened. */
export function staysAsOf<S extends Stay>(stays: readonly S[], asOf: PlainDate): S[] {
  return stays
    .filter((stay) => stay.from <= asOf)
    .map((stay) => ({ ...stay, until: stay.until !== null && stay.until <= asOf ? stay.until : null }))
}

/** The zones as they were known on a day: what they were set to later was not yet. Null: as they are known now. */
export function zonesAsOf(zones: ZonesById, asOf: PlainDate | null): ZonesById {
  if (asOf === null) return zones
  const known = (setPoints: readonly ZoneSetPoint[]) => {
    const before = setPoints.filter((setPoint) => setPoint.from <= asOf)
    return before.length > 0 ? before : setPoints.slice(0, 1)
  }
  return new Map([...zones].map(([id, zone]) => [id, { setPoints: known(zone.setPoints) }]))
}
