import type { PlanRoom } from './room'

/** A room's figures on flat arrays, since a plan asks for a play some hundred times. */
export type Flat = {
  dayCount: number
  lineCount: number
  /** Class after class in feeding order: its cost, and where its takes begin in the two lists. */
  classCount: number
  shortage: Float64Array
  takeStarts: Int32Array
  takeLines: Int32Array
  takeItems: Float64Array
  survival: Float64Array
  waste: Float64Array
  keepDays: Float64Array
  starterCost: Float64Array
  stock: Float64Array
  stockGood: readonly Float64Array[]
  /** Need by scenario: class after class in feeding order, all days of one after the other. */
  need: Float64Array[]
}

export function flatten(room: PlanRoom): Flat {
  const { fed, kept, scenarios, dayCount } = room
  const takes = fed.flatMap((each) => each.takes)
  let begun = 0
  const takeStarts = [
    0,
    ...fed.map((each) => {
      begun += each.takes.length
      return begun
    }),
  ]
  return {
    dayCount,
    lineCount: room.lines.length,
    classCount: fed.length,
    shortage: Float64Array.from(fed, ({ shortageCost }) => shortageCost),
    takeStarts: Int32Array.from(takeStarts),
    takeLines: Int32Array.from(takes, ({ line }) => line),
    takeItems: Float64Array.from(takes, ({ items }) => items),
    survival: Float64Array.from(kept, ({ survival }) => survival),
    waste: Float64Array.from(kept, ({ wasteCost }) => wasteCost),
    keepDays: Float64Array.from(kept, ({ keepDays }) => keepDays),
    starterCost: Float64Array.from(kept, ({ starterCostPerItem }) => starterCostPerItem),
    stock: Float64Array.from(room.stock),
    stockGood: room.stockGood,
    need: scenarios.map(({ need }) => {
      const rows = new Float64Array(fed.length * dayCount)
      fed.forEach(({ index }, place) => {
        rows.set(need[index]!, place * dayCount)
      })
      return rows
    }),
  }
}
