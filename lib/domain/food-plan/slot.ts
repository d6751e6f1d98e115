import { addDays, type PlainDate, weekdayOf } from '../calendar/date'
import type { BoughtLine, CultureLine, FoodCase, FoodLine } from './case'

/** One decision of the plan: cultures of a line started, or packs of it ordered, on one day. */
export type Slot = {
  line: number
  /** Day of the start or the order, from 0. */
  day: number
  week: number
  /** Day on which a pack arrives; the day itself for a culture. */
  arrives: number
  kind: 'start' | 'order'
  /** Part of a later day's rule, see `answer.ts`; null where the slot has one number for all scenarios. */
  part: number | null
}

/** Every day on which something can be started or ordered, by day and line. */
export function listSlots(foodCase: FoodCase, lines: readonly FoodLine[], dayCount: number): Slot[] {
  const slots: Slot[] = []
  for (let day = 0; day < dayCount; day += 1) {
    for (const [index, line] of lines.entries()) {
      const at = { line: index, day, week: Math.floor(day / 7), part: null }
      if (line.kind === 'culture' && isStartDay(foodCase, line, day))
        slots.push({ ...at, kind: 'start', arrives: day })
      if (line.kind === 'bought' && isOrderDay(foodCase, line, day)) {
        const arrives = arrivalDay(foodCase, line, day)
        if (arrives < dayCount) slots.push({ ...at, kind: 'order', arrives })
      }
    }
  }
  return slots
}

function isStartDay(foodCase: FoodCase, line: CultureLine, day: number): boolean {
  const { startWeekdays, closedDays } = foodCase.limits ?? {}
  const on = addDays(foodCase.from, day)
  if (closedDays?.includes(on) || !(line.yield.mean > 0)) return false
  return startWeekdays ? startWeekdays.includes(weekdayOf(on)) : isFirstOpenDay(foodCase, day)
}

/** Without chosen weekdays: once a week, on the first day of the plan's week that is open. */
function isFirstOpenDay({ from, limits }: FoodCase, day: number): boolean {
  for (let earlier = day - (day % 7); earlier < day; earlier += 1)
    if (!limits?.closedDays?.includes(addDays(from, earlier))) return false
  return true
}

function isOrderDay(foodCase: FoodCase, line: BoughtLine, day: number): boolean {
  const on = addDays(foodCase.from, day)
  if (foodCase.limits?.supplierClosedDays?.includes(on) || !(line.packSize > 0)) return false
  if (line.orderWeekdays && line.ordersPerWeek) return isBundledDay(foodCase, line, day)
  if (line.orderWeekdays) return line.orderWeekdays.includes(weekdayOf(on))
  // What keeps for less than eight days has to be ordered more often than once a week.
  return day % 7 === 0 || (line.keepDays < 8 && day % 7 === 3)
}

/** Days between two orders of one week. */
const APART_DAYS = 3

/**
 * The first open order day of each calendar week, and where two are used the first that is three days later. In a
 * week that has begun its own day may have passed: then the next one does, unless something is on its way already.
 */
function isBundledDay(foodCase: FoodCase, line: BoughtLine, day: number): boolean {
  const { from, limits, deliveries = [] } = foodCase
  const monday = day - weekdayOf(addDays(from, day)) + 1
  const isOffered = (each: number) => {
    const on = addDays(from, each)
    return !limits?.supplierClosedDays?.includes(on) && line.orderWeekdays!.includes(weekdayOf(on))
  }
  const week = Array.from({ length: 7 }, (_, each) => monday + each).filter(isOffered)
  const isOnItsWay = deliveries.some((each) => each.line === line.id)
  const open = week.filter((each) => each >= 0)
  const first = isOnItsWay ? week[0] : open[0]
  const second = line.ordersPerWeek === 2 ? week.find((each) => each >= (first ?? 0) + APART_DAYS) : undefined
  return day === first || day === second
}

/** A delivery waits for a day on which both sides are open. */
export function arrivalDay(foodCase: FoodCase, line: BoughtLine, ordered: number): number {
  const { supplierClosedDays, closedDays } = foodCase.limits ?? {}
  const isClosed = (on: PlainDate) => supplierClosedDays?.includes(on) || closedDays?.includes(on)
  let day = ordered + Math.max(0, Math.round(line.leadDays))
  for (let tries = 0; tries < 60 && isClosed(addDays(foodCase.from, day)); tries += 1) day += 1
  return day
}

/** Weeks, beginning with its own, in which a culture started in a slot still stands. */
export function weeksStanding(line: FoodLine, slot: Slot): number {
  return line.kind === 'culture' ? Math.max(1, Math.ceil((line.discardAfterDays + (slot.day % 7)) / 7)) : 0
}

export function isStandingIn(line: FoodLine, slot: Slot, week: number): boolean {
  return slot.week <= week && week < slot.week + weeksStanding(line, slot)
}
