import { addDays, daysBetween, maxDate, type PlainDate } from '../calendar/date'
import { type CaseCulture, discardAgeOf } from './case'
import { type Played, playScenario } from './play'
import { sayReasons } from './reason'
import { type PlanRoom, shareOf } from './room'
import type { Slot } from './slot'

/** What one week asks for, and what is to be expected of it. */
export type FoodPlanWeek = {
  /** From 1. */
  week: number
  from: PlainDate
  starts: { line: string; count: number; on: PlainDate }[]
  purchases: { line: string; packs: number; orderOn: PlainDate; arrivesOn: PlainDate }[]
  /** Cultures that have reached their age. */
  discards: { line: string; count: number; on: PlainDate; startedOn: PlainDate }[]
  /** Items that nobody eats before they die. */
  expectedSurplus: { line: string; count: number }[]
  /** Animal-days without food, and the chance that nobody of the class goes short in the week. */
  expectedShortage: { class: string; animalDays: number; chanceMet: number }[]
  reasons: string[]
}

const SMALLEST_SURPLUS = 0.5
const SMALLEST_SHORTAGE = 0.05
/** Of a class's need in a week; less than that is nobody going hungry. */
const SHORT_SHARE = 0.005

/** The weeks of a plan. Counts of later weeks are means over what may happen, whole and in sum what they should be. */
export function presentWeeks(room: PlanRoom, counts: readonly number[]): FoodPlanWeek[] {
  const decisions = listDecisions(room, counts)
  const plays = room.scenarios.map((_, scenario) => playScenario(room, scenario, counts))
  const reasons = sayReasons(room, decisions)
  const discards = listDiscards(room, decisions)
  return Array.from({ length: room.weekCount }, (_, week) => {
    const from = addDays(room.foodCase.from, week * 7)
    const inWeek = (on: PlainDate) => Math.floor(daysBetween(room.foodCase.from, on) / 7) === week
    const made = decisions.filter(({ slot }) => slot.week === week)
    return {
      week: week + 1,
      from,
      starts: made.flatMap(({ slot, count }) =>
        slot.kind === 'start' ? [{ line: lineId(room, slot), count, on: dayOf(room, slot.day) }] : [],
      ),
      purchases: made.flatMap(({ slot, count }) =>
        slot.kind === 'order'
          ? [
              {
                line: lineId(room, slot),
                packs: count,
                orderOn: dayOf(room, slot.day),
                arrivesOn: dayOf(room, slot.arrives),
              },
            ]
          : [],
      ),
      discards: discards.filter(({ on }) => inWeek(on)),
      expectedSurplus: surplusOf(room, plays, week),
      expectedShortage: shortageOf(room, plays, week),
      reasons: reasons[week]!,
    }
  })
}

export type PlanDecision = { slot: Slot; count: number }

/** Whole numbers by day and line. What rounding has taken or given is made up for at the line's next chance. */
export function listDecisions(room: PlanRoom, counts: readonly number[]): PlanDecision[] {
  const means = new Map<string, { slot: Slot; mean: number }>()
  room.slots.forEach((slot, index) => {
    const key = `${slot.line}/${slot.day}`
    const known = means.get(key) ?? { slot, mean: 0 }
    means.set(key, known)
    known.mean += shareOf(room, index) * counts[index]!
  })
  const over = room.lines.map(() => 0)
  return [...means.values()].flatMap(({ slot, mean }) => {
    // Down, so that no limit that holds for the means is broken by a whole number.
    const count = Math.floor(mean + over[slot.line]! + 1e-6)
    const most = Math.ceil(mean - 1e-6)
    const whole = Math.min(count, most)
    over[slot.line]! += mean - whole
    return whole > 0 ? [{ slot, count: whole }] : []
  })
}

function lineId(room: PlanRoom, { line }: Slot): string {
  return room.lines[line]!.id
}

function dayOf({ foodCase }: PlanRoom, day: number): PlainDate {
  return addDays(foodCase.from, day)
}

function listDiscards(room: PlanRoom, decisions: readonly PlanDecision[]): FoodPlanWeek['discards'] {
  const { foodCase, lines } = room
  const started = decisions.flatMap(({ slot, count }): CaseCulture[] =>
    slot.kind === 'start' ? [{ line: lineId(room, slot), startedOn: dayOf(room, slot.day), count }] : [],
  )
  const sums = new Map<string, FoodPlanWeek['discards'][number]>()
  for (const culture of [...(foodCase.cultures ?? []), ...started]) {
    const { line: id, startedOn, count = 1 } = culture
    const line = lines.find((each) => each.id === id)
    if (line?.kind !== 'culture') continue
    const on = maxDate(foodCase.from, addDays(startedOn, discardAgeOf(culture, line)))
    const key = `${id}/${startedOn}/${on}`
    const known = sums.get(key) ?? { line: id, count: 0, on, startedOn }
    sums.set(key, known)
    known.count += count
  }
  return [...sums.values()].sort((a, b) => (a.on < b.on ? -1 : 1))
}

function surplusOf(room: PlanRoom, plays: readonly Played[], week: number) {
  return room.lines.flatMap(({ id }, line) => {
    const count = plays.reduce((sum, { wasted }) => sum + wasted[line]![week]!, 0) / plays.length
    return count < SMALLEST_SURPLUS ? [] : [{ line: id, count: round(count) }]
  })
}

function shortageOf(room: PlanRoom, plays: readonly Played[], week: number) {
  const sum = (days: Float64Array) =>
    days.subarray(week * 7, week * 7 + 7).reduce((total, each) => total + each, 0)
  return room.classes.flatMap(({ id }, index) => {
    const missed = plays.map((play) => sum(play.missed[index]!))
    const mean = missed.reduce((total, each) => total + each, 0) / plays.length
    const isMet = missed.filter(
      (each, scenario) => each <= SHORT_SHARE * sum(room.scenarios[scenario]!.need[index]!),
    )
    if (mean < SMALLEST_SHORTAGE) return []
    return [{ class: id, animalDays: round(mean), chanceMet: isMet.length / plays.length }]
  })
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}
