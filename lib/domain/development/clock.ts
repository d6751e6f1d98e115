import { dateOfDay, dayNumber, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'

/**
 * The development clock: how fast a cold-blooded animal gets on at a temperature.
 *
 * r(T) = (T − lower) / (reference − lower), 0 below the lower threshold, flat above the upper one. An
 * *effective day* is a day at the reference temperature. Linear rate between thresholds (degree-days);
 * thresholds are priors, as none is published for a mantis. Day and night are averaged as rates, not as
 * temperatures: half of each.
 */
export type Thresholds = { lowerC: number; referenceC: number; upperC: number }

/**
 * A stretch of days at one day and (if given) one night temperature; `until` is the first day after it. Where it was
 * measured, `partsC` are the temperatures of equally long parts of its day: then they count, as rates, and `dayC` is
 * only their mean.
 */
export type TemperatureSegment = {
  from: PlainDate
  until: PlainDate | null
  dayC: number
  nightC?: number
  partsC?: readonly number[]
}

/**
 * In any order. Where stretches overlap the one that began later holds; a gap, the time before the first
 * and the time after the last take the nearest stretch.
 */
export type TemperatureHistory = readonly TemperatureSegment[]

/** A history made ready for counting: rate per day from each start, and effective days up to it. */
export type DevelopmentClock = {
  readonly startDays: readonly number[]
  readonly rates: readonly number[]
  readonly effectiveDaysBefore: readonly number[]
}

/** From `fromDay` on all temperatures are `byC` warmer: one guess at a future unlike its forecast. */
export type TemperatureShift = { fromDay: number; byC: number }

export function thresholdsOf(profile: CareProfile): Thresholds {
  return {
    lowerC: profile.growth.lowerThresholdC.value,
    referenceC: profile.growth.referenceC.value,
    upperC: profile.growth.upperThresholdC.value,
  }
}

/** Effective days per day at a steady temperature; 1 at the reference. */
export function rate(temperatureC: number, thresholds: Thresholds): number {
  const { lowerC, referenceC, upperC } = thresholds
  return Math.max(0, (Math.min(temperatureC, upperC) - lowerC) / (referenceC - lowerC))
}

/** Effective days per day: the mean rate of what was measured, or half the day and half the night temperature. */
export function dailyRate(
  segment: Pick<TemperatureSegment, 'dayC' | 'nightC' | 'partsC'>,
  thresholds: Thresholds,
): number {
  const { partsC } = segment
  if (partsC && partsC.length > 0)
    return partsC.reduce((sum, partC) => sum + rate(partC, thresholds), 0) / partsC.length
  const byDay = rate(segment.dayC, thresholds)
  return segment.nightC === undefined ? byDay : (byDay + rate(segment.nightC, thresholds)) / 2
}

/** Sorts and sums a history once, O(n log n), so that every later question is O(log n). */
export function developmentClock(history: TemperatureHistory, thresholds: Thresholds): DevelopmentClock {
  return buildClock(sortedStretches(history), thresholds)
}

/** The same clock with the temperatures from a day on shifted. */
export function shiftedClock(
  history: TemperatureHistory,
  thresholds: Thresholds,
  shift: TemperatureShift,
): DevelopmentClock {
  const stretches = sortedStretches(history)
  const current = stretches.findLast((stretch) => stretch.startDay <= shift.fromDay) ?? stretches[0]
  const before = stretches.filter((stretch) => stretch.startDay < shift.fromDay)
  const after = stretches.filter((stretch) => stretch.startDay > shift.fromDay)
  const now = current ? [{ ...current, startDay: shift.fromDay }] : []
  const warmer = [...now, ...after].map(({ startDay, segment }) => ({
    startDay,
    segment: {
      ...segment,
      dayC: segment.dayC + shift.byC,
      nightC: segment.nightC === undefined ? undefined : segment.nightC + shift.byC,
      ...(segment.partsC ? { partsC: segment.partsC.map((partC) => partC + shift.byC) } : {}),
    },
  }))
  const beginning =
    before.length > 0 || !stretches[0] ? before : [{ ...stretches[0], startDay: shift.fromDay - 1 }]
  return buildClock([...beginning, ...warmer], thresholds)
}

/** Effective days from one date to another, both at the same time of day; negative backwards. */
export function effectiveDays(clock: DevelopmentClock, from: PlainDate, to: PlainDate): number {
  return effectiveDaysAt(clock, dayNumber(to)) - effectiveDaysAt(clock, dayNumber(from))
}

/** Effective days on a scale of the clock's own, at the start of a (possibly broken) day number. O(log n). */
export function effectiveDaysAt(clock: DevelopmentClock, day: number): number {
  const index = stretchIndexAt(clock, day)
  return (
    (clock.effectiveDaysBefore[index] ?? 0) +
    (day - (clock.startDays[index] ?? 0)) * (clock.rates[index] ?? 0)
  )
}

/** Effective days gained on the given day. */
export function rateOn(clock: DevelopmentClock, date: PlainDate): number {
  return clock.rates[stretchIndexAt(clock, dayNumber(date))] ?? 0
}

/** The first date by which at least `amount` effective days have passed since `from`; null when never. */
export function dateAfterEffectiveDays(
  clock: DevelopmentClock,
  from: PlainDate,
  amount: number,
): PlainDate | null {
  const startDay = dayNumber(from)
  if (amount <= 0) return from
  const goal = effectiveDaysAt(clock, startDay) + amount
  let index = stretchIndexAt(clock, startDay)
  while (index + 1 < clock.startDays.length && (clock.effectiveDaysBefore[index + 1] ?? 0) < goal) index += 1
  const perDay = clock.rates[index] ?? 0
  if (perDay <= 0) return null
  const daysInto = (goal - (clock.effectiveDaysBefore[index] ?? 0)) / perDay
  const day = Math.ceil((clock.startDays[index] ?? 0) + daysInto - 1e-9)
  return day > LAST_DAY ? null : dateOfDay(Math.max(startDay, day))
}

/** 9999-12-31. */
const LAST_DAY = 2_932_896

type Stretch = { startDay: number; segment: TemperatureSegment }

function sortedStretches(history: TemperatureHistory): Stretch[] {
  if (history.length === 0) throw new RangeError('a temperature history needs at least one stretch')
  return history
    .map((segment) => ({ startDay: dayNumber(segment.from), segment }))
    .sort((a, b) => a.startDay - b.startDay)
}

function buildClock(stretches: Stretch[], thresholds: Thresholds): DevelopmentClock {
  const startDays: number[] = []
  const rates: number[] = []
  const effectiveDaysBefore: number[] = []
  let total = 0
  for (const { startDay, segment } of stretches) {
    const previousStart = startDays.at(-1)
    if (previousStart !== undefined) total += (startDay - previousStart) * (rates.at(-1) ?? 0)
    startDays.push(startDay)
    rates.push(dailyRate(segment, thresholds))
    effectiveDaysBefore.push(total)
  }
  return { startDays, rates, effectiveDaysBefore }
}

/** Index of the last stretch that began on or before the day; 0 before all of them. */
function stretchIndexAt(clock: DevelopmentClock, day: number): number {
  let low = 0
  let high = clock.startDays.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((clock.startDays[middle] ?? 0) <= day) low = middle
    else high = middle - 1
  }
  return low
}
