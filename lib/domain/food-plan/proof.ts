import type { LinearProgram, ProgramAnswer } from '../program/linear'
import { buildFoodProgram } from './program'
import type { PlanRoom } from './room'

/** Largest program that is solved while a person waits, in columns. */
const LARGEST_COLUMNS = 28_000

/** Most scenarios that a gap is proven on; as many of them as fit. */
const MOST_SCENARIOS = 8

/**
 * How much cheaper another plan could be at most, as a share, over some of the plan's own scenarios: their program is
 * solved twice, with the counts as they are and with any, whole or not, which no whole plan can beat. Both feed as well
 * as the program can, so what is compared is the starts and orders; the other plan knows these scenarios and no others,
 * so less is proven than holds, the less the fewer fit. Null where the solver has no time.
 */
export function* proveGap(
  room: PlanRoom,
  counts: readonly number[],
): Generator<LinearProgram, number | null, ProgramAnswer> {
  // Where nothing can be started or ordered there is one plan, and an empty program is none to a solver.
  if (room.slots.length === 0) return 0
  const fitting = Math.floor(LARGEST_COLUMNS / columnsEach(room))
  const few = someOf(room, Math.max(1, Math.min(MOST_SCENARIOS, fitting)))
  const { program, slotColumns } = buildFoodProgram(few, { wholeDays: 0 })
  const own = yield fix(program, slotColumns, counts)
  if (own.status !== 'optimal') return null
  const best = yield program
  if (best.status !== 'optimal') return null
  if (own.cost <= 0) return 0
  return Math.min(1, Math.max(0, 1 - best.cost / own.cost))
}

/** The room with so many of its scenarios, from all over them. */
function someOf(room: PlanRoom, count: number): PlanRoom {
  const all = room.scenarios.length
  const taken = Array.from({ length: Math.min(all, count) }, (_, each) => Math.floor((each * all) / count))
  return {
    ...room,
    scenarios: taken.map((scenario) => room.scenarios[scenario]!),
    parts: room.parts.map((row) => Float64Array.from(taken, (scenario) => row[scenario]!)),
  }
}

function columnsEach({ dayCount, kept, fed }: PlanRoom): number {
  const perLine = kept.reduce((sum, { keepDays }) => sum + (keepDays < dayCount ? 2 : 1), 0)
  const perClass = fed.reduce((sum, { takes }) => sum + 1 + takes.length, 0)
  return dayCount * (perLine + perClass)
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
