import { DEFAULT_MINUTES_PER_START } from './case'
import { type PlanRoom, shareIn } from './room'
import { isStandingIn } from './slot'

/** No more of these slots, weighed, than `most`: shelf places, starts of a week or minutes of a day in one scenario. */
export type LimitRow = { slots: readonly number[]; weights: readonly number[]; most: number }

/** Shelf places, starts a week and work a day over the starts; once, or where later days have rules in each scenario. */
export function limitRows(room: PlanRoom): LimitRow[] {
  const { shelfPlaces, startsPerWeek, minutesPerStartDay } = room.foodCase.limits ?? {}
  const weeks = Array.from({ length: room.weekCount }, (_, week) => week)
  const played = room.parts.length === 0 ? [0] : room.scenarios.map((_, scenario) => scenario)
  return played.flatMap((scenario) => {
    const starts = room.slots.flatMap(({ kind }, slot) =>
      kind === 'start' && shareIn(room, slot, scenario) > 0 ? [slot] : [],
    )
    const row = (isMeant: (slot: number) => boolean, most: number, weigh = (_: number) => 1) => {
      const slots = starts.filter(isMeant)
      return { slots, weights: slots.map((slot) => weigh(slot) * shareIn(room, slot, scenario)), most }
    }
    const inWeek = (week: number) => (slot: number) => room.slots[slot]!.week === week
    const onDay = (day: number) => (slot: number) => room.slots[slot]!.day === day
    const days = [...new Set(starts.map((slot) => room.slots[slot]!.day))]
    return [
      ...(startsPerWeek === undefined ? [] : weeks.map((week) => row(inWeek(week), startsPerWeek))),
      ...(minutesPerStartDay === undefined
        ? []
        : days.map((day) => row(onDay(day), minutesPerStartDay, (slot) => minutesOf(room, slot)))),
      ...(shelfPlaces === undefined
        ? []
        : weeks.map((week) =>
            row((slot) => isStanding(room, slot, week), freePlaces(room, shelfPlaces, week)),
          )),
    ].filter(({ slots }) => slots.length > 0)
  })
}

/**
 * Brings counts inside what is possible: at least what batches of different age ask for, and each week's too many
 * lowered in proportion. Where both cannot be, the limits hold.
 */
export function openLimits(room: PlanRoom): (counts: number[] | Float64Array) => void {
  const rows = limitRows(room)
  const { most, least } = room
  return (counts) => {
    for (let slot = 0; slot < counts.length; slot += 1)
      counts[slot] = Math.min(most[slot]!, Math.max(least[slot]!, counts[slot]!))
    for (const row of rows) lower(counts, row)
  }
}

function lower(counts: number[] | Float64Array, { slots, weights, most }: LimitRow): void {
  let sum = 0
  for (let place = 0; place < slots.length; place += 1) sum += counts[slots[place]!]! * weights[place]!
  if (sum <= most) return
  for (const slot of slots) counts[slot]! *= most / sum
}

function isStanding(room: PlanRoom, index: number, week: number): boolean {
  const slot = room.slots[index]!
  return isStandingIn(room.lines[slot.line]!, slot, week)
}

/** Places beside what stands already, which is a fact. */
function freePlaces(room: Pick<PlanRoom, 'standing'>, shelfPlaces: number, week: number): number {
  return Math.max(0, shelfPlaces - room.standing.reduce((sum, weeks) => sum + weeks[week]!, 0))
}

function minutesOf(room: PlanRoom, slot: number): number {
  const line = room.lines[room.slots[slot]!.line]!
  return line.kind === 'culture' ? (line.minutesPerStart ?? DEFAULT_MINUTES_PER_START) : 0
}
