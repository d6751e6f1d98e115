import type { LinearProgram, ProgramAnswer } from '../program/linear'
import { exchangeEvenings } from './plan-exchange'
import { copyLedger, type PlanLedger, totalLoss } from './plan-ledger'
import { refillPlan } from './plan-polish'
import {
  largestBatch,
  leastCharges,
  nextCharges,
  type PlanProgram,
  planProgram,
  readMoved,
} from './plan-program'
import { planByIndex, planByWaterFilling } from './plan-quick'
import type { CountedRoom } from './plan-room'
import { wholePlan } from './plan-rounding'

/** Asks for programs to be solved and is given their answers, so that the core itself never waits. */
export type Solving<Result> = Generator<LinearProgram, Result, ProgramAnswer>

export type FoundPlan = {
  ledger: PlanLedger
  /** No plan loses fewer: the cost of the first program. Null where it was not solved in time. */
  atLeast: number | null
  isComplete: boolean
  /** Expected animals saved by one minute more on a day, and by one cup more from a day on; upper bounds. */
  worthOfMinute: number[]
  worthOfCup: number[][]
}

/** Water-filling looks at today only, or so many days ahead; the better plan is taken. */
const LOOK_AHEAD_DAYS = [1, 4, 10]

/** Without a solver, at once. */
export function quickPlan(counted: CountedRoom): PlanLedger {
  const candidates = [
    planByIndex(counted),
    ...LOOK_AHEAD_DAYS.map((days) => planByWaterFilling(counted, days)),
  ]
  return refillPlan(candidates.reduce(better))
}

/**
 * The best whole plan of several: by the quick rules, and by the program with its set-ups shared anew each
 * round. It can therefore not be worse than they are, and what there is stands when time runs out.
 */
export function* searchPlan(
  counted: CountedRoom,
  options: { rounds: number; start?: PlanLedger },
): Solving<FoundPlan> {
  const found: FoundPlan = {
    ledger: quickPlan(counted),
    atLeast: null,
    isComplete: true,
    worthOfMinute: counted.minutes.map(() => 0),
    worthOfCup: counted.stock.map((days) => days.map(() => 0)),
  }
  if (options.start) found.ledger = better(found.ledger, refillPlan(copyLedger(options.start)))
  if (!counted.isOpen.some((days) => days.some((isOpen) => isOpen)))
    return { ...found, atLeast: totalLoss(found.ledger) }
  let charges = leastCharges(counted)
  for (let round = 0; round < options.rounds; round += 1) {
    const draft = planProgram(counted, charges)
    const answer = yield draft.program
    if (answer.status !== 'optimal') return { ...found, isComplete: false }
    if (round === 0) noteWorth(found, draft, answer)
    const parted = readMoved(draft, answer.values)
    found.ledger = better(found.ledger, wholePlan(counted, parted))
    charges = nextCharges(counted, charges, parted)
  }
  const whole = yield* searchWhole(counted)
  return { ...found, ledger: exchangeEvenings(whole ? better(found.ledger, whole) : found.ledger) }
}

/** With so few evenings to choose from, set-ups as yes or no are solved in no time. */
const FEW_EVENINGS = 40

function* searchWhole(counted: CountedRoom): Solving<PlanLedger | null> {
  const evenings = counted.isOpen.flatMap((days, clutch) =>
    days.filter((_, day) => largestBatch(counted, clutch, day) > 0),
  )
  if (evenings.length > FEW_EVENINGS) return null
  const draft = planProgram(counted, 'whole')
  const answer = yield draft.program
  const values = answer.status === 'optimal' || answer.status === 'timed-out' ? answer.values : null
  return values ? wholePlan(counted, readMoved(draft, values)) : null
}

function noteWorth(
  found: FoundPlan,
  draft: PlanProgram,
  answer: ProgramAnswer & { status: 'optimal' },
): void {
  found.atLeast = answer.cost
  found.worthOfMinute = draft.minuteRows.map((row) => Math.abs(answer.rowDuals[row]!))
  found.worthOfCup = draft.filledColumns.map((columns) => {
    const duals = columns.map((column) => Math.max(0, -answer.columnDuals[column]!))
    for (let day = duals.length - 2; day >= 0; day -= 1) duals[day]! += duals[day + 1]!
    return duals
  })
}

function better(one: PlanLedger, other: PlanLedger): PlanLedger {
  return totalLoss(other) < totalLoss(one) - 1e-9 ? other : one
}
