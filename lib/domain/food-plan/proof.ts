import type { LinearProgram, ProgramAnswer } from '../program/linear'
import { buildFoodProgram } from './program'
import type { PlanRoom } from './room'

/** Largest program that is solved while a person waits, in columns. */
const LARGEST_COLUMNS = 15_000

/**
 * How much cheaper another plan could be at most, as a share: the program of the room is solved twice, with the counts
 * as they are and with any, whole or not, which no whole plan can beat. Both feed as well as the program can, so what
 * is compared is the starts and orders. Null where the program is too large or the solver has no time.
 */
export function* proveGap(
  room: PlanRoom,
  counts: readonly number[],
): Generator<LinearProgram, number | null, ProgramAnswer> {
  // Where nothing can be started or ordered there is one plan, and an empty program is none to a solver.
  if (room.slots.length === 0) return 0
  if (columnCount(room) > LARGEST_COLUMNS) return null
  const { program, slotColumns } = buildFoodProgram(room, { wholeDays: 0 })
  const own = yield fix(program, slotColumns, counts)
  if (own.status !== 'optimal') return null
  const best = yield program
  if (best.status !== 'optimal') return null
  if (own.cost <= 0) return 0
  return Math.min(1, Math.max(0, 1 - best.cost / own.cost))
}

function columnCount({ scenarios, dayCount, kept, fed }: PlanRoom): number {
  const perLine = kept.reduce((sum, { keepDays }) => sum + (keepDays < dayCount ? 2 : 1), 0)
  const perClass = fed.reduce((sum, { takes }) => sum + 1 + takes.length, 0)
  return scenarios.length * dayCount * (perLine + perClass)
}

/** Everything else is left to the solver. */
export function fix(
  program: LinearProgram,
  columns: readonly number[],
  counts: readonly number[],
): LinearProgram {
  const columnLower = Float64Array.from(program.columnLower)
  const columnUpper = Float64Array.from(program.columnUpper)
  columns.forEach((column, slot) => {
    columnLower[column] = counts[slot]!
    columnUpper[column] = counts[slot]!
  })
  return { ...program, columnLower, columnUpper }
}
