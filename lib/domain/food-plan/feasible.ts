import { DEFAULT_MINUTES_PER_START } from './case'
import { type PlanRoom, weeksStanding } from './room'

/** How far counts break what is fixed: 0 where they can be done. Batches missing count less than the rest. */
export type Breach = { limits: number; batches: number }

export function breachOf(room: PlanRoom, counts: ArrayLike<number>): Breach {
  return { limits: overLimits(room, counts), batches: missingBatches(room, counts) }
}

function overLimits(room: PlanRoom, counts: ArrayLike<number>): number {
  const { shelfPlaces, startsPerWeek, minutesPerStartDay } = room.foodCase.limits ?? {}
  let over = 0
  const started = new Float64Array(room.weekCount)
  const standing = new Float64Array(room.weekCount)
  const minutes = new Map<number, number>()
  room.slots.forEach((slot, index) => {
    const count = counts[index]!
    const line = room.lines[slot.line]!
    if (count === 0 || line.kind !== 'culture') return
    started[slot.week]! += count
    const until = Math.min(room.weekCount, slot.week + weeksStanding(room, slot))
    for (let week = slot.week; week < until; week += 1) standing[week]! += count
    const work = count * (line.minutesPerStart ?? DEFAULT_MINUTES_PER_START)
    minutes.set(slot.day, (minutes.get(slot.day) ?? 0) + work)
  })
  for (let week = 0; week < room.weekCount; week += 1) {
    const running = room.standing.reduce((sum, weeks) => sum + weeks[week]!, 0)
    // What stands already is a fact: only what is added to it can be too much.
    if (started[week]! > 0 || standing[week]! > 0)
      over += Math.max(0, standing[week]! - Math.max(0, (shelfPlaces ?? Number.POSITIVE_INFINITY) - running))
    over += Math.max(0, started[week]! - (startsPerWeek ?? Number.POSITIVE_INFINITY))
  }
  for (const work of minutes.values())
    over += Math.max(0, work - (minutesPerStartDay ?? Number.POSITIVE_INFINITY)) / 10
  return over
}

/** Batches of different age short of the least, summed over lines and weeks. */
export function missingBatches(room: PlanRoom, counts: ArrayLike<number>): number {
  let missing = 0
  for (let line = 0; line < room.lines.length; line += 1) {
    const least = room.minimumBatches[line]!
    if (least === 0) continue
    for (let week = 0; week < room.weekCount; week += 1)
      missing += Math.max(0, least - batchesInWeek(room, counts, { line, week }))
  }
  return missing
}

export function batchesInWeek(
  room: PlanRoom,
  counts: ArrayLike<number>,
  { line, week }: { line: number; week: number },
): number {
  let batches = room.batches[line]![week]!
  room.slots.forEach((slot, index) => {
    if (slot.line !== line || !(counts[index]! > 0) || slot.kind !== 'start') return
    if (slot.week <= week && week < slot.week + weeksStanding(room, slot)) batches += 1
  })
  return batches
}
