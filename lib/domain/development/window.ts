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
  /** `now` is where the clock of a branch stands at the start of today. */
  branches: { weight: number; clock: DevelopmentClock; now: number }[]
}

/** 10, 50 and 90 % dates. */
export type DateWindow = { p10: PlainDate; p50: PlainDate; p90: PlainDate }

export type ChanceWithin = { days: number; probability: number }

/** Further ahead than this nothing is promised; the slowest species, kept cool, need most of it from a late first instar. */
export const HORIZON_DAYS = 2000

const FIRST_STEP_DAYS = 8

export function futureOf(
  temperatures: { history: TemperatureHistory; thresholds: Thresholds; sdC: number },
  today: PlainDate,
): Future {
  const { history, thresholds, sdC } = temperatures
  const past = developmentClock(history, thresholds)
  const fromDay = dayNumber(today)
  if (sdC === 0)
    return { today, past, branches: [{ weight: 1, clock: past, now: effectiveDaysAt(past, fromDay) }] }
  // A measured past has a stretch for every day, and the branches are only ever asked about the days ahead.
  const ahead = clipHistory(history, today, null)
  const branches = NORMAL_NODES.map(({ z, weight }) => {
    const clock = shiftedClock(ahead, thresholds, { fromDay, byC: z * sdC })
    return { weight, clock, now: effectiveDaysAt(clock, fromDay) }
  })
  return { today, past, branches }
}

/** P(event before the given number of days from now have passed). */
export function chanceWithinDays(
  future: Future,
  chanceBy: (effectiveDays: number) => number,
  days: number,
): number {
  const then = dayNumber(future.today) + days
  return future.branches.reduce((sum, { weight, clock, now }) => {
    return sum + weight * chanceBy(effectiveDaysAt(clock, then) - now)
  }, 0)
}

/** The first dates by whose end the event has happened with 10, 50 and 90 %; null beyond the horizon. */
export function dateWindow(future: Future, chanceBy: (effectiveDays: number) => number): DateWindow | null {
  const outer = outerOffsets(future, chanceBy)
  if (!outer) return null
  const { p10, p90, chanceAt } = outer
  const p50 = firstOffset(chanceAt, 0.5, { after: p10 - 1, until: p90 })
  return { p10: addDays(future.today, p10), p50: addDays(future.today, p50), p90: addDays(future.today, p90) }
}

/** A window with the chance that it gave itself: that the event falls on one of its days, first and last counted in. */
export type SelfRatedWindow = DateWindow & { chanceInside: number }

/** Whole days hold more than the 80 % that lie between a 10 and a 90 % date: this says how much. */
export function rateWindow(
  future: Future,
  chanceBy: (effectiveDays: number) => number,
): SelfRatedWindow | null {
  const window = dateWindow(future, chanceBy)
  if (!window) return null
  const before = (day: PlainDate) => dayNumber(day) - dayNumber(future.today) - 0.5
  const [from, until] = [before(window.p10), before(window.p90) + 1]
  const chanceAt = (days: number) => (days <= 0 ? 0 : chanceWithinDays(future, chanceBy, days))
  return { ...window, chanceInside: chanceAt(until) - chanceAt(from) }
}

/** The first and the last day of the same window, for a list that does not say the middle of it. */
export function outerWindow(
  future: Future,
  chanceBy: (effectiveDays: number) => number,
): Pick<DateWindow, 'p10' | 'p90'> | null {
  const outer = outerOffsets(future, chanceBy)
  return outer && { p10: addDays(future.today, outer.p10), p90: addDays(future.today, outer.p90) }
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

type OuterOffsets = { p10: number; p90: number; chanceAt: (offset: number) => number }

/** Null where even the last day that is asked about does not have 90 %: then the earlier ones do not matter. */
function outerOffsets(future: Future, chanceBy: (effectiveDays: number) => number): OuterOffsets | null {
  // A chance is dear, and the searches for the three days meet on their way.
  const found = new Map<number, number>()
  const chanceAt = (offset: number) => {
    const before = found.get(offset)
    if (before !== undefined) return before
    const chance = chanceWithinDays(future, chanceBy, offset + 0.5)
    found.set(offset, chance)
    return chance
  }
  if (!(chanceAt(HORIZON_DAYS) >= 0.9)) return null
  const p90 = firstOffset(chanceAt, 0.9, { after: -1, until: HORIZON_DAYS })
  const p10 = firstOffset(chanceAt, 0.1, { after: -1, until: p90 })
  return { p10, p90, chanceAt }
}

/**
 * Smallest whole number of days by whose end the chance is reached, given that it is by `until`. Steps that double
 * first, since most of what is asked about is weeks away and not years; then bisection, as chances only grow.
 */
function firstOffset(
  chanceAt: (offset: number) => number,
  probability: number,
  within: { after: number; until: number },
): number {
  let low = within.after
  let high = within.until
  for (let step = FIRST_STEP_DAYS; low + step < high; step *= 2) {
    if (chanceAt(low + step) >= probability) high = low + step
    else low += step
  }
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (chanceAt(middle) >= probability) high = middle
    else low = middle
  }
  return high
}
