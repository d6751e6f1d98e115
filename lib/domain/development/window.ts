import { addDays, dayNumber, type PlainDate } from '../calendar/date'
import { NORMAL_NODES } from '../probability/normal'
import {
  type DevelopmentClock,
  developmentClock,
  effectiveDaysAt,
  shiftedClock,
  type TemperatureHistory,
  type Thresholds,
} from './clock'
import { clipHistory } from './temperature-history'

/**
 * From a waiting time in effective days to dates on the calendar. The past of the clock is known; from
 * today on the temperature is its forecast plus an unknown steady error (standard deviation in °C), so the
 * chances are averaged over five futures. A day's event happens at any hour of it: something "on or before"
 * a date has until its end, and now is taken as the middle of today.
 */
export type Future = {
  today: PlainDate
  past: DevelopmentClock
  branches: { weight: number; clock: DevelopmentClock }[]
}

/** 10, 50 and 90 % dates. */
export type DateWindow = { p10: PlainDate; p50: PlainDate; p90: PlainDate }

export type ChanceWithin = { days: number; probability: number }

/** Further ahead than this nothing is promised; the slowest species, kept cool, need most of it from a late first instar. */
export const HORIZON_DAYS = 2000

export function futureOf(
  temperatures: { history: TemperatureHistory; thresholds: Thresholds; sdC: number },
  today: PlainDate,
): Future {
  const { history, thresholds, sdC } = temperatures
  const past = developmentClock(history, thresholds)
  if (sdC === 0) return { today, past, branches: [{ weight: 1, clock: past }] }
  const fromDay = dayNumber(today)
  // A measured past has a stretch for every day, and the branches are only ever asked about the days ahead.
  const ahead = clipHistory(history, today, null)
  const branches = NORMAL_NODES.map(({ z, weight }) => ({
    weight,
    clock: shiftedClock(ahead, thresholds, { fromDay, byC: z * sdC }),
  }))
  return { today, past, branches }
}

/** P(event before the given number of days from now have passed). */
export function chanceWithinDays(
  future: Future,
  chanceBy: (effectiveDays: number) => number,
  days: number,
): number {
  const today = dayNumber(future.today)
  return future.branches.reduce((sum, { weight, clock }) => {
    return sum + weight * chanceBy(effectiveDaysAt(clock, today + days) - effectiveDaysAt(clock, today))
  }, 0)
}

/** The first dates by whose end the event has happened with 10, 50 and 90 %; null beyond the horizon. */
export function dateWindow(future: Future, chanceBy: (effectiveDays: number) => number): DateWindow | null {
  const offsets = [0.1, 0.5, 0.9].map((probability) => firstOffset(future, chanceBy, probability))
  const [p10, p50, p90] = offsets
  if (p10 == null || p50 == null || p90 == null) return null
  return { p10: addDays(future.today, p10), p50: addDays(future.today, p50), p90: addDays(future.today, p90) }
}

export function chancesWithin(
  future: Future,
  chanceBy: (effectiveDays: number) => number,
  spans: readonly number[],
): ChanceWithin[] {
  return spans.map((days) => ({ days, probability: chanceWithinDays(future, chanceBy, days) }))
}

/** Effective days between two dates as far as they are known or forecast, without the spread. */
export function expectedEffectiveDays(future: Future, from: PlainDate, to: PlainDate): number {
  return effectiveDaysAt(future.past, dayNumber(to)) - effectiveDaysAt(future.past, dayNumber(from))
}

/** Smallest whole number of days by whose end the chance is reached; bisection, as chances only grow. */
function firstOffset(
  future: Future,
  chanceBy: (effectiveDays: number) => number,
  probability: number,
): number | null {
  const reached = (offset: number) => chanceWithinDays(future, chanceBy, offset + 0.5) >= probability
  if (!reached(HORIZON_DAYS)) return null
  let low = -1
  let high = HORIZON_DAYS
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (reached(middle)) high = middle
    else low = middle
  }
  return high
}
