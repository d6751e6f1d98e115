import { addDays, type PlainDate } from '../calendar/date'
import type { ClutchHazard } from './plan-hazard'

/**
 * All that the plan across clutches is made from: who is still together and how dangerous that is, the minutes
 * of each evening, the containers. Days follow one another without a gap; the first is today.
 */
export type SeparationRoom = {
  /** Minutes for parting and for feeding the cups that come of it; those already fed are not in them. */
  days: { on: PlainDate; minutes: number }[]
  clutches: PlanClutch[]
  containerKinds: PlanContainerKind[]
  labour: SeparationLabour
  /** Days after the last one for which animals left together are charged their losses. */
  tailDays: number
}

export type PlanClutch = {
  id: string
  label: string
  /** Whole animals together this evening. */
  together: number
  hazard: ClutchHazard
  /** Days on which they may not be touched, as hanging or soft ones are. */
  blocked: PlainDate[]
  /** The first day on which they may be parted at all; null for today. */
  safeFrom: PlainDate | null
  /** By when they should be apart; only to say what is missed, never a constraint. */
  apartBy: PlainDate | null
  /** Ids of the kinds that fit, the one it should rather have first. */
  containerKinds: string[]
}

export type PlanContainerKind = {
  id: string
  label: string
  free: number
  ordered: { on: PlainDate; count: number }[]
  /** Wanted by animals that grow, and no longer there for siblings. */
  neededByGrowing: { on: PlainDate; count: number }[]
}

/** Defaults until a workspace's own bench times say otherwise. */
export type SeparationLabour = {
  secondsPerNymph: number
  /** For each clutch taken up on an evening. */
  minutesPerClutchEvening: number
  secondsPerCupFeeding: number
  daysBetweenFeedings: number
}

export const SEPARATION_LABOUR: SeparationLabour = {
  secondsPerNymph: 45,
  minutesPerClutchEvening: 10,
  secondsPerCupFeeding: 17,
  daysBetweenFeedings: 2,
}

export const TAIL_DAYS = 7

/** The same room by numbers: day, clutch and kind are places in arrays. */
export type CountedRoom = {
  room: SeparationRoom
  dayCount: number
  minutes: number[]
  /** Minutes that one cup filled earlier asks for on a day. */
  feedingMinutes: number[]
  /** Containers of a kind that may be filled from the first to this evening, none of them missed later. */
  stock: number[][]
  /** Which evenings a clutch may be touched. */
  isOpen: boolean[][]
  /** Kinds that fit a clutch, those that fit the fewest other clutches first. */
  kinds: number[][]
  minutesPerNymph: number
  minutesPerClutch: number
}

/** @throws RangeError on days with gaps, on counts that are not whole, on an unknown kind */
export function countRoom(room: SeparationRoom): CountedRoom {
  checkRoom(room)
  const minutes = room.days.map((day) => day.minutes)
  return {
    room,
    dayCount: room.days.length,
    minutes,
    feedingMinutes: feedingMinutesByDay(minutes, room.labour),
    stock: room.containerKinds.map((kind) => stockByDay(kind, room.days)),
    isOpen: room.clutches.map((clutch) => room.days.map(({ on }) => canTouch(clutch, on))),
    kinds: kindsByClutch(room),
    minutesPerNymph: room.labour.secondsPerNymph / 60,
    minutesPerClutch: room.labour.minutesPerClutchEvening,
  }
}

function canTouch(clutch: PlanClutch, on: PlainDate): boolean {
  return clutch.together >= 2 && !clutch.blocked.includes(on) && (clutch.safeFrom ?? on) <= on
}

/**
 * Cups are fed when there are hours: the feedings of a week fall on its days in proportion to their minutes,
 * so a short Wednesday is no limit of its own, but a full week is. In a week without any hours somebody else
 * feeds.
 */
export function feedingMinutesByDay(minutes: readonly number[], labour: SeparationLabour): number[] {
  const perCupDay = labour.secondsPerCupFeeding / 60 / labour.daysBetweenFeedings
  return minutes.map((own, day) => {
    const week = minutes.slice(day - (day % 7), day - (day % 7) + 7)
    const total = week.reduce((sum, each) => sum + each, 0)
    return total > 0 ? (perCupDay * week.length * own) / total : 0
  })
}

/** What may be filled by each evening: later needs of growing animals are already kept back. */
function stockByDay(kind: PlanContainerKind, days: SeparationRoom['days']): number[] {
  const sumUpTo = (list: PlanContainerKind['ordered'], on: PlainDate) =>
    list.reduce((sum, entry) => (entry.on <= on ? sum + entry.count : sum), 0)
  const stock = days.map(({ on }) =>
    Math.max(0, kind.free + sumUpTo(kind.ordered, on) - sumUpTo(kind.neededByGrowing, on)),
  )
  for (let day = stock.length - 2; day >= 0; day -= 1) stock[day] = Math.min(stock[day]!, stock[day + 1]!)
  return stock
}

function kindsByClutch(room: SeparationRoom): number[][] {
  const wanted = room.containerKinds.map(
    ({ id }) => room.clutches.filter((clutch) => clutch.containerKinds.includes(id)).length,
  )
  return room.clutches.map((clutch) =>
    clutch.containerKinds
      .map((id) => room.containerKinds.findIndex((kind) => kind.id === id))
      .sort((one, other) => wanted[one]! - wanted[other]! || one - other),
  )
}

function checkRoom(room: SeparationRoom): void {
  const known = new Set(room.containerKinds.map(({ id }) => id))
  room.days.forEach(({ on, minutes }, day) => {
    if (day > 0 && on !== addDays(room.days[0]!.on, day)) throw new RangeError(`days with a gap before ${on}`)
    if (!(minutes >= 0)) throw new RangeError(`no such minutes on ${on}: ${minutes}`)
  })
  for (const clutch of room.clutches) {
    if (!Number.isInteger(clutch.together) || clutch.together < 0)
      throw new RangeError(`not a count of animals: ${clutch.together}`)
    const strange = clutch.containerKinds.find((id) => !known.has(id))
    if (strange !== undefined) throw new RangeError(`no such container kind: ${strange}`)
  }
}
