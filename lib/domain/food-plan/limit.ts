import { DEFAULT_MINUTES_PER_START } from './case'
import { isIn, type PlanRoom } from './room'
import { isStandingIn } from './slot'

/**
 * Brings counts inside what is possible: at least what batches of different age ask for, and each week's too many
 * lowered in proportion. Where both cannot be, the limits hold.
 */
export function fitLimits(room: PlanRoom, counts: number[]): void {
  counts.forEach((count, slot) => {
    counts[slot] = Math.min(room.most[slot]!, Math.max(room.least[slot]!, count))
  })
  const { shelfPlaces, startsPerWeek, minutesPerStartDay } = room.foodCase.limits ?? {}
  if (startsPerWeek !== undefined)
    for (let week = 0; week < room.weekCount; week += 1)
      lower(room, counts, { most: startsPerWeek, isMeant: (slot) => room.slots[slot]!.week === week })
  if (minutesPerStartDay !== undefined)
    for (const day of new Set(room.slots.map((slot) => slot.day)))
      lower(room, counts, {
        most: minutesPerStartDay,
        isMeant: (slot) => room.slots[slot]!.day === day,
        weighs: (slot) => minutesOf(room, slot),
      })
  if (shelfPlaces === undefined) return
  for (let week = 0; week < room.weekCount; week += 1) {
    lower(room, counts, {
      most: freePlaces(room, shelfPlaces, week),
      isMeant: (slot) => isStanding(room, slot, week),
    })
  }
}

export function isStanding(room: PlanRoom, index: number, week: number): boolean {
  const slot = room.slots[index]!
  return slot.kind === 'start' && isStandingIn(room.lines[slot.line]!, slot, week)
}

/** Places beside what stands already, which is a fact. */
export function freePlaces(room: Pick<PlanRoom, 'standing'>, shelfPlaces: number, week: number): number {
  return Math.max(0, shelfPlaces - room.standing.reduce((sum, weeks) => sum + weeks[week]!, 0))
}

export function minutesOf(room: PlanRoom, slot: number): number {
  const line = room.lines[room.slots[slot]!.line]!
  return line.kind === 'culture' ? (line.minutesPerStart ?? DEFAULT_MINUTES_PER_START) : 0
}

type Lowering = { most: number; isMeant: (slot: number) => boolean; weighs?: (slot: number) => number }

/** In each scenario only the slots of its branch count; a limit is kept in the fullest of them. */
function lower(room: PlanRoom, counts: number[], { most, isMeant, weighs = () => 1 }: Lowering): void {
  const meant = room.slots.flatMap(({ kind }, slot) => (kind === 'start' && isMeant(slot) ? [slot] : []))
  for (const path of room.paths) {
    const open = meant.filter((slot) => isIn(room, slot, path))
    const sum = open.reduce((total, slot) => total + counts[slot]! * weighs(slot), 0)
    if (sum <= most) continue
    for (const slot of open) counts[slot]! *= most / sum
  }
}
