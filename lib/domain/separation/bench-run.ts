/**
 * A run at the bench as the device sees it: what was there when it was opened, and what has been tapped since, in
 * order. The screen shows this at once; whether a tap has been sent plays no part in the counting.
 */
export type BenchTap = {
  id: string
  kind: 'cup' | 'dead' | 'escaped' | 'undo' | 'raise' | 'finish'
  /** Label number of a cup, where the run had one left. */
  number?: number
  /** The container of a cup, in words. */
  containerName?: string
  /** Animals of a raise. */
  count?: number
  undoes?: string
  /** Given up by the keeper: it never happened. */
  isDropped?: boolean
}

export type BenchOpening = {
  together: number
  housed: number
  dead: number
  escaped: number
  isCounted: boolean
  /** The first label number that no cup has yet, and the first behind those the run has set aside. */
  nextNumber: number
  endNumber: number
}

export type BenchStanding = {
  together: number
  housed: number
  dead: number
  escaped: number
  /** The number for the next cup; null when the run has none left and the service gives the next. */
  nextNumber: number | null
  /** What Undo would take back. */
  last: BenchTap | null
}

/** Where a run stands after its taps. O(n). */
export function benchStanding(opening: BenchOpening, taps: readonly BenchTap[]): BenchStanding {
  const alive = taps.filter(({ isDropped }) => !isDropped)
  const undone = new Set(alive.flatMap(({ undoes }) => (undoes ? [undoes] : [])))
  const effective = alive.filter(({ id, kind }) => kind !== 'undo' && kind !== 'finish' && !undone.has(id))
  const countOf = (kind: BenchTap['kind']) => effective.filter((tap) => tap.kind === kind).length
  const [cups, dead, escaped] = [countOf('cup'), countOf('dead'), countOf('escaped')]
  const raised = effective.reduce((sum, { kind, count }) => sum + (kind === 'raise' ? (count ?? 0) : 0), 0)
  const left = opening.together + raised - cups - dead - escaped
  return {
    // In an "about" clutch more than there seemed to be raises the count; in a counted one it is kept for a correction.
    together: Math.max(0, left),
    housed: opening.housed + cups,
    dead: opening.dead + dead,
    escaped: opening.escaped + escaped,
    nextNumber: nextNumber(opening, taps),
    last: effective.findLast(({ kind }) => kind !== 'raise') ?? null,
  }
}

/** An undone cup has used its number up: its label may be on the cup already. */
function nextNumber(opening: BenchOpening, taps: readonly BenchTap[]): number | null {
  const numbers = taps.flatMap(({ number }) => (number === undefined ? [] : [number + 1]))
  const next = Math.max(opening.nextNumber, ...numbers)
  return next < opening.endNumber ? next : null
}

/** How many animals a counted clutch lacks for the taps that wait behind a refused one. */
export function missingAnimals(together: number, waiting: readonly BenchTap[]): number {
  const taking = waiting.filter(({ kind, isDropped }) => !isDropped && isTaking(kind)).length
  return Math.max(1, taking - together)
}

function isTaking(kind: BenchTap['kind']): boolean {
  return kind === 'cup' || kind === 'dead' || kind === 'escaped'
}
