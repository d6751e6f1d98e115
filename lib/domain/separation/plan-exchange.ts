import { addMove, copyLedger, type PlanLedger, removeMove, totalLoss } from './plan-ledger'
import { refillPlan } from './plan-polish'

/**
 * Improves a plan by exchanging evenings: a clutch gives up one of its evenings, another is put in its place
 * or the time is shared out anew, and what is better stays. Small rooms are searched through, large ones only
 * where it is most likely to help, so that the cost stays about the same.
 */
export function exchangeEvenings(start: PlanLedger): PlanLedger {
  const search: Search = { best: start, triesLeft: triesFor(start) }
  let before = Number.POSITIVE_INFINITY
  while (search.triesLeft > 0 && totalLoss(search.best) < before - 1e-9) {
    before = totalLoss(search.best)
    exchangeOnce(search)
  }
  return search.best
}

type Search = { best: PlanLedger; triesLeft: number }

/** Every exchange once: what did not help is not tried again because something else did. */
function exchangeOnce(search: Search): void {
  const tried = new Set<string>()
  for (let hasGained = true; hasGained; ) {
    hasGained = false
    for (const exchange of listExchanges(search.best)) {
      if (search.triesLeft <= 0) return
      const key = `${exchange.clutch} ${exchange.day} ${exchange.other}`
      if (tried.has(key)) continue
      tried.add(key)
      search.triesLeft -= 1
      const trial = tryExchange(search.best, exchange)
      if (totalLoss(trial) >= totalLoss(search.best) - 1e-9) continue
      search.best = trial
      hasGained = true
      break
    }
  }
}

/** An evening of `clutch` given to `other`; −1 for whoever it serves best. */
type Exchange = { clutch: number; day: number; count: number; other: number }

function triesFor(ledger: PlanLedger): number {
  const size = Math.max(1, ledger.moved.length * ledger.counted.dayCount)
  return Math.min(1500, 20 + Math.floor(500_000 / size))
}

/** Thin evenings first: they are the likeliest to be better spent. */
function listExchanges(ledger: PlanLedger): Exchange[] {
  const { isOpen } = ledger.counted
  const evenings = ledger.moved
    .flatMap((days, clutch) => days.map((count, day) => ({ clutch, day, count })))
    .filter(({ count }) => count > 0)
    .sort((one, other) => one.count - other.count)
  const drops = evenings.map((evening) => ({ ...evening, other: -1 }))
  const swaps = evenings.flatMap((evening) =>
    isOpen.flatMap((days, other) =>
      other !== evening.clutch && days[evening.day] && ledger.left[other]![evening.day]! >= 1
        ? [{ ...evening, other }]
        : [],
    ),
  )
  return [...drops, ...swaps]
}

function tryExchange(ledger: PlanLedger, exchange: Exchange): PlanLedger {
  const trial = copyLedger(ledger)
  removeMove(trial, exchange)
  if (exchange.other >= 0)
    addMove(trial, { clutch: exchange.other, day: exchange.day, count: Number.POSITIVE_INFINITY })
  refillPlan(trial)
  return trial
}
