import type { PlanLedger } from './plan-ledger'

/**
 * Who goes into which kind, by clutch, day and kind. While a plan is made, each takes first what the fewest others
 * can use; once it stands, each gets the kind named first for it, as long as all of them still find a container.
 * O(moves × kinds × days).
 */
export function preferredKinds(ledger: PlanLedger): number[][][] {
  const { room, dayCount, stock } = ledger.counted
  const left = stock.map((days) => [...days])
  const byKind = ledger.byKind.map((days) => days.map((kinds) => kinds.map(() => 0)))
  const preferences = room.clutches.map(({ containerKinds }) =>
    containerKinds.map((id) => room.containerKinds.findIndex((kind) => kind.id === id)),
  )
  for (let day = 0; day < dayCount; day += 1)
    for (let clutch = 0; clutch < byKind.length; clutch += 1) {
      let open = ledger.moved[clutch]![day]!
      for (const kind of preferences[clutch]!) {
        const taken = Math.min(open, leastFrom(left[kind]!, day))
        byKind[clutch]![day]![kind]! += taken
        for (let later = day; later < dayCount; later += 1) left[kind]![later]! -= taken
        open -= taken
      }
      if (open > 0) return ledger.byKind
    }
  return byKind
}

function leastFrom(days: readonly number[], day: number): number {
  let least = Number.POSITIVE_INFINITY
  for (let later = day; later < days.length; later += 1) least = Math.min(least, days[later]!)
  return Math.max(0, least)
}
