/**
 * A run at the bench as the device sees it: what the service last said was there, and what this device has tapped
 * since, in order. The screen shows this at once; whether a tap has been sent plays no part in the counting. When the
 * service says again how things stand, what had arrived by then is marked as included, so that it counts once, and
 * what others did at the same clutch shows.
 */
export type BenchTap = {
  id: string
  kind: 'cup' | 'dead' | 'escaped' | 'undo' | 'raise' | 'finish' | 'tray' | 'hanging'
  /** Label number of a cup, where the run had one left. */
  number?: number
  /** The container of a cup, in words. */
  containerName?: string
  /** Animals of a raise, or those that hang. */
  count?: number
  undoes?: string
  /** Given up by the keeper: it never happened. */
  isDropped?: boolean
  /** Already part of the opening, which was asked for after this had arrived. */
  isIncluded?: boolean
}

export type BenchOpening = {
  together: number
  housed: number
  dead: number
  escaped: number
  isCounted: boolean
  /** How many hang for a moult, as last said of this clutch on any device; missing where an older build kept it. */
  hanging?: number
  /** The first label number that no cup has yet, and the first behind those the run has set aside. */
  nextNumber: number
  endNumber: number
}

export type BenchStanding = {
  together: number
  housed: number
  dead: number
  escaped: number
  /** How many hang for a moult: as last said here, or else on another device. */
  hanging: number
  /** The number for the next cup; null when the run has none left and the service gives the next. */
  nextNumber: number | null
  /** What Undo would take back. */
  last: BenchTap | null
}

/** What is said of a run moves nobody. */
const WORDS: ReadonlySet<BenchTap['kind']> = new Set(['undo', 'finish', 'tray', 'hanging'])

/** Where a run stands after its taps. O(n). */
export function benchStanding(opening: BenchOpening, taps: readonly BenchTap[]): BenchStanding {
  const alive = taps.filter(({ isDropped }) => !isDropped)
  const undone = listUndone(alive)
  const undoneBefore = listUndone(alive.filter(({ isIncluded }) => isIncluded))
  const isAct = ({ kind }: BenchTap) => !WORDS.has(kind)
  const effective = alive.filter((tap) => isAct(tap) && !undone.has(tap.id))
  const included = alive.filter((tap) => isAct(tap) && tap.isIncluded && !undoneBefore.has(tap.id))
  const change = (kind: BenchTap['kind']) => sumOf(effective, kind) - sumOf(included, kind)
  const [cups, dead, escaped] = [change('cup'), change('dead'), change('escaped')]
  const left = opening.together + change('raise') - cups - dead - escaped
  return {
    // In an "about" clutch more than there seemed to be raises the count; in a counted one it is kept for a correction.
    together: Math.max(0, left),
    housed: opening.housed + cups,
    dead: opening.dead + dead,
    escaped: opening.escaped + escaped,
    hanging: saidHere(alive) ?? opening.hanging ?? 0,
    nextNumber: nextNumber(opening, taps),
    last: effective.findLast(({ kind }) => kind !== 'raise') ?? null,
  }
}

/** What was said on this device and is not in the opening yet. */
function saidHere(taps: readonly BenchTap[]): number | undefined {
  return taps.findLast(({ kind, isIncluded }) => kind === 'hanging' && !isIncluded)?.count
}

function listUndone(taps: readonly BenchTap[]): Set<string> {
  return new Set(taps.flatMap(({ undoes }) => (undoes ? [undoes] : [])))
}

/** Animals of one kind of tap: a raise says how many, every other tap is one. */
function sumOf(taps: readonly BenchTap[], kind: BenchTap['kind']): number {
  return taps.filter((tap) => tap.kind === kind).reduce((sum, { count }) => sum + (count ?? 1), 0)
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
