import { addMove, emptyLedger, type PlanLedger } from './plan-ledger'
import { refillPlan } from './plan-polish'
import type { CountedRoom } from './plan-room'

/**
 * Whole animals from a program's answer: rounded down, the largest batches of an evening first, then planned
 * again around what is left over.
 */
export function wholePlan(counted: CountedRoom, parted: number[][]): PlanLedger {
  const ledger = emptyLedger(counted)
  for (let day = 0; day < counted.dayCount; day += 1) {
    const wanted = parted
      .map((days, clutch) => ({ clutch, count: Math.floor(days[day]! + 1e-6) }))
      .filter(({ count }) => count > 0)
      .sort((one, other) => other.count - one.count)
    for (const { clutch, count } of wanted) addMove(ledger, { clutch, day, count })
  }
  return refillPlan(ledger)
}

/** A plan made for one room carried out in another as far as it can be, to start from. */
export function replayPlan(counted: CountedRoom, plan: PlanLedger): PlanLedger {
  const ledger = emptyLedger(counted)
  for (let day = 0; day < counted.dayCount; day += 1)
    plan.moved.forEach((days, clutch) => {
      addMove(ledger, { clutch, day, count: days[day]! })
    })
  return ledger
}
