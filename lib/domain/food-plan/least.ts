import type { FoodLine } from './case'
import { isStandingIn, type Slot } from './slot'

type Batched = {
  lines: readonly FoodLine[]
  slots: readonly Slot[]
  weekCount: number
  /** By slot. */
  most: readonly number[]
  /** By line and week: batches of different age that run already. */
  batches: readonly Float64Array[]
  minimumBatches: readonly number[]
}

/**
 * The least each slot starts so that a line in use is never without its batches of different age: week by week, one
 * culture on the last day that still mends what is missing. By slot, alike in every part of a rule.
 */
export function leastCounts(room: Batched): number[] {
  const least = room.slots.map(() => 0)
  room.lines.forEach((_, line) => {
    for (let week = 0; week < room.weekCount; week += 1) {
      const standing = room.slots.flatMap((slot, index) =>
        slot.line === line &&
        slot.kind === 'start' &&
        isStandingIn(room.lines[line]!, slot, week) &&
        room.most[index]! >= 1
          ? [index]
          : [],
      )
      const days = (isMeant: (index: number) => boolean) =>
        [...new Set(standing.filter(isMeant).map((index) => room.slots[index]!.day))].sort((a, b) => b - a)
      const missing =
        room.minimumBatches[line]! - room.batches[line]![week]! - days((index) => least[index]! > 0).length
      for (const day of days((index) => least[index] === 0).slice(0, Math.max(0, missing)))
        for (const index of standing) if (room.slots[index]!.day === day) least[index] = 1
    }
  })
  return least
}
