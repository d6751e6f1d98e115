import type { Entry, ProgramBuilder } from '../program/linear'
import { freePlaces, isStanding, minutesOf } from './limit'
import { isIn, type PlanRoom } from './room'

/**
 * Shelf places, starts a week and work a day as rows over the slots, one for each set of branches. The least
 * batches of different age are bounds of the columns, see `leastCounts`.
 */
export function addLimitRows(builder: ProgramBuilder, room: PlanRoom, slotColumns: readonly number[]): void {
  const { shelfPlaces, startsPerWeek, minutesPerStartDay } = room.foodCase.limits ?? {}
  const add = (entries: Entry[], upper: number) => {
    if (entries.length > 0) builder.addRow(entries, { upper })
  }
  for (const path of room.paths) {
    const starts = room.slots.flatMap(({ kind }, slot) =>
      kind === 'start' && isIn(room, slot, path) ? [slot] : [],
    )
    const entriesOf = (isMeant: (slot: number) => boolean, weigh = (_: number) => 1) =>
      starts.filter(isMeant).map((slot): Entry => [slotColumns[slot]!, weigh(slot)])
    for (let week = 0; week < room.weekCount; week += 1) {
      if (shelfPlaces !== undefined)
        add(
          entriesOf((slot) => isStanding(room, slot, week)),
          freePlaces(room, shelfPlaces, week),
        )
      if (startsPerWeek !== undefined)
        add(
          entriesOf((slot) => room.slots[slot]!.week === week),
          startsPerWeek,
        )
    }
    if (minutesPerStartDay === undefined) continue
    for (const day of new Set(starts.map((slot) => room.slots[slot]!.day)))
      add(
        entriesOf(
          (slot) => room.slots[slot]!.day === day,
          (slot) => minutesOf(room, slot),
        ),
        minutesPerStartDay,
      )
  }
}
