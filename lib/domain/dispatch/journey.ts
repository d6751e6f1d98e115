import { addDays, type PlainDate, weekdayOf } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { AirRange } from './gate'

/** From packing here to the arrival there. */
export type Journey = { packOn: PlainDate; arriveOn: PlainDate }

export const ENDS = ['here', 'there'] as const
export type JourneyEnd = (typeof ENDS)[number]

/** The coldest and warmest air of a day at one end, night and depot included. */
export type AirDay = AirRange & { end: JourneyEnd; on: PlainDate }

/** A day on which nothing is fetched, carried or taken in at an end. */
export type ClosedDay = { end: JourneyEnd; on: PlainDate; note: string }

export type JourneyRules = {
  /** ISO weekdays on which boxes are sent. */
  weekdays: readonly number[]
  transitDays: number
  closedDays: readonly ClosedDay[]
}

export const USUAL_WEEKDAYS: readonly number[] = [1, 2, 3]
export const USUAL_TRANSIT_DAYS = 1
export const MOST_TRANSIT_DAYS = 4
/** A box that is a day late still has to be handed over: so many days after the arrival have to be open as well. */
export const RESERVE_DAYS = 1

export function journeyFrom(packOn: PlainDate, { transitDays }: JourneyRules): Journey {
  return { packOn, arriveOn: addDays(packOn, transitDays) }
}

export function isSentOn(packOn: PlainDate, { weekdays }: JourneyRules): boolean {
  return weekdays.includes(weekdayOf(packOn))
}

/** The closed day that is in the way of a journey, in words; null where none is. */
export function closedBlock(journey: Journey, { closedDays, transitDays }: JourneyRules): string | null {
  // What is handed over on the spot cannot be late.
  const last = addDays(journey.arriveOn, transitDays > 0 ? RESERVE_DAYS : 0)
  const closed = [...closedDays]
    .sort((one, other) => (one.on < other.on ? -1 : 1))
    .find(({ on }) => on >= journey.packOn && on <= last)
  if (!closed) return null
  const end = closed.end === 'here' ? 'here' : 'at the buyer’s end'
  const note = closed.note ? ` (${closed.note})` : ''
  return `${writeDay(closed.on, journey.packOn)} is closed ${end}${note}.`
}

/** The air a box meets, as far as it is known; `isKnown` once both ends are. */
export type JourneyAir = { isKnown: boolean; range: AirRange | null; missing: string | null }

/**
 * Both ends on every day from packing to arrival, since a depot may be near either. Known once the packing day is
 * known here and the arrival day there.
 */
export function airOf(journey: Journey, air: readonly AirDay[]): JourneyAir {
  const met = air.filter(({ on }) => on >= journey.packOn && on <= journey.arriveOn)
  const isKnown = (end: JourneyEnd, day: PlainDate) => met.some((one) => one.end === end && one.on === day)
  const missing = [
    isKnown('here', journey.packOn) ? '' : `here on ${writeDay(journey.packOn, journey.packOn)}`,
    isKnown('there', journey.arriveOn) ? '' : `there on ${writeDay(journey.arriveOn, journey.packOn)}`,
  ].filter(Boolean)
  const range = met.length
    ? {
        lowC: Math.min(...met.map(({ lowC }) => lowC)),
        highC: Math.max(...met.map(({ highC }) => highC)),
      }
    : null
  const words = missing.length ? `The air ${missing.join(' and ')} is not known yet.` : null
  return { isKnown: missing.length === 0, range, missing: words }
}
