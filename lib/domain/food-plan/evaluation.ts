import { addSlot, shareInTime, startersOf, supplyOf } from './play'
import type { PlanRoom } from './room'

/** One slot raised or lowered to a number. */
export type Change = { slot: number; to: number }

/**
 * The mean cost of starts and orders over all scenarios, kept so that a change is played only from the week in
 * which it begins. Agrees with `playScenario`, which says what a cost is made of; this is the same play on flat
 * arrays, as a plan asks for it some hundred times.
 */
export type Evaluation = {
  counts: number[]
  /** Sum over scenarios; divide by their number for the mean. */
  cost: number
  /** The cost after changes, or Infinity as soon as it is known to exceed `limit`. */
  costWith(changes: readonly Change[], limit?: number): number
  apply(changes: readonly Change[]): void
  /** Plays spent so far, in scenario-days. */
  effort: number
}

export function evaluate(room: PlanRoom, counts: readonly number[]): Evaluation {
  const flat = flatten(room)
  const state = stateOf(room, flat, counts)
  const prices = room.price.map((price, slot) => price * shareInTime(room, slot) * room.scenarios.length)
  const scratch = newScratch(room)
  const evaluation: Evaluation = {
    counts: [...counts],
    cost: 0,
    effort: 0,
    costWith: (changes, limit = Number.POSITIVE_INFINITY) => {
      const changed = layOut(room, evaluation.counts, changes)
      let cost = changes.reduce(
        (sum, { slot, to }) => sum + (to - evaluation.counts[slot]!) * prices[slot]!,
        state.prices,
      )
      let pending = state.before[changed.week]!.reduce((sum, each) => sum + each, 0)
      for (let scenario = 0; scenario < room.scenarios.length; scenario += 1) {
        if (cost + pending > limit) return Number.POSITIVE_INFINITY
        const before = state.before[changed.week]![scenario]!
        pending -= before
        const supply = changedSupply(room, { state, scratch, scenario, changes, counts: evaluation.counts })
        cost +=
          before +
          playFlat(flat, {
            supply,
            scenario,
            starters: changed.starters,
            fromWeek: changed.week,
            state,
            scratch,
          })
        evaluation.effort += flat.dayCount - changed.week * 7
      }
      return cost
    },
    apply: (changes) => {
      for (const { slot, to } of changes) evaluation.counts[slot] = to
      Object.assign(state, stateOf(room, flat, evaluation.counts))
      evaluation.cost = total(state)
      evaluation.effort += flat.dayCount * room.scenarios.length
    },
  }
  evaluation.cost = total(state)
  return evaluation
}

type Flat = {
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

type State = {
  /** By scenario and line. */
  supply: Float64Array[][]
  starters: Float64Array[]
  /** By week and scenario: cost until its first day, and stock on its eve, line by line. */
  before: Float64Array[]
  stock: Float64Array[][]
  ends: Float64Array
  prices: number
}

type Scratch = { stock: Float64Array; unfed: Float64Array; supply: Float64Array[]; rows: Float64Array[] }

function newScratch(room: PlanRoom): Scratch {
  const rows = room.lines.map(() => new Float64Array(room.dayCount))
  return {
    stock: new Float64Array(room.lines.length),
    unfed: new Float64Array(room.fed.length),
    supply: [...rows],
    rows,
  }
}

function total({ ends, prices }: State): number {
  return ends.reduce((sum, each) => sum + each, prices)
}

function flatten(room: PlanRoom): Flat {
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

function stateOf(room: PlanRoom, flat: Flat, counts: readonly number[]): State {
  const scenarioCount = room.scenarios.length
  const state: State = {
    supply: room.scenarios.map((_, scenario) => supplyOf(room, scenario, counts)),
    starters: startersOf(room, counts),
    before: Array.from({ length: room.weekCount }, () => new Float64Array(scenarioCount)),
    stock: Array.from({ length: room.weekCount }, () =>
      room.scenarios.map(() => Float64Array.from(flat.stock)),
    ),
    ends: new Float64Array(scenarioCount),
    prices:
      counts.reduce((sum, count, slot) => sum + count * room.price[slot]! * shareInTime(room, slot), 0) *
      scenarioCount,
  }
  const scratch = newScratch(room)
  for (let scenario = 0; scenario < scenarioCount; scenario += 1) {
    state.ends[scenario] = playFlat(flat, {
      supply: state.supply[scenario]!,
      scenario,
      starters: state.starters,
      fromWeek: 0,
      state,
      scratch,
      isKept: true,
    })
  }
  return state
}

function layOut(room: PlanRoom, counts: readonly number[], changes: readonly Change[]) {
  const week = Math.min(...changes.map(({ slot }) => room.slots[slot]!.week))
  const changed = [...counts]
  for (const { slot, to } of changes) changed[slot] = to
  return { week, starters: startersOf(room, changed) }
}

function changedSupply(
  room: PlanRoom,
  of: {
    state: State
    scratch: Scratch
    scenario: number
    changes: readonly Change[]
    counts: readonly number[]
  },
): Float64Array[] {
  const { scratch, scenario } = of
  const present = of.state.supply[scenario]!
  present.forEach((days, line) => {
    scratch.supply[line] = days
  })
  for (const { slot, to } of of.changes) {
    const { line } = room.slots[slot]!
    if (scratch.supply[line] === present[line]) {
      scratch.rows[line]!.set(present[line]!)
      scratch.supply[line] = scratch.rows[line]!
    }
    addSlot(room, { scenario, slot, from: of.counts[slot]!, to }, scratch.supply[line]!)
  }
  return scratch.supply
}

type Playing = {
  supply: readonly Float64Array[]
  scenario: number
  starters: readonly Float64Array[]
  fromWeek: number
  state: Pick<State, 'before' | 'stock'>
  scratch: Scratch
  /** Are cost and stock to be kept at each week's beginning? */
  isKept?: boolean
}

/** Cost from the first day of a week to the end. See `playScenario` for what it does. */
function playFlat(flat: Flat, playing: Playing): number {
  const { dayCount, lineCount, classCount, takeStarts, takeLines, takeItems, shortage } = flat
  const { supply, scenario, starters, state, scratch, isKept } = playing
  const { stock, unfed } = scratch
  const need = flat.need[scenario]!
  stock.set(state.stock[playing.fromWeek]![scenario]!)
  let cost = 0
  for (let day = playing.fromWeek * 7; day < dayCount; day += 1) {
    if (isKept && day % 7 === 0) {
      state.before[day / 7]![scenario] = cost
      state.stock[day / 7]![scenario]!.set(stock)
    }
    for (let line = 0; line < lineCount; line += 1) {
      const present = stock[line]! + supply[line]![day]!
      const wanted = starters[line]![day]!
      const taken = Math.min(present, wanted)
      stock[line] = present - taken
      if (wanted > taken) cost += (wanted - taken) * flat.starterCost[line]!
    }
    let hungry = 0
    for (let place = 0; place < classCount; place += 1) {
      const take = takeStarts[place]!
      let animals = need[place * dayCount + day]!
      if (animals > 0 && take < takeStarts[place + 1]!) {
        const line = takeLines[take]!
        const wanted = animals * takeItems[take]!
        if (stock[line]! >= wanted) {
          stock[line]! -= wanted
          animals = 0
        } else {
          animals -= stock[line]! / takeItems[take]!
          stock[line] = 0
        }
      }
      unfed[place] = animals
      hungry += animals
    }
    for (let place = 0; hungry > 1e-9 && place < classCount; place += 1) {
      let animals = unfed[place]!
      for (let take = takeStarts[place]! + 1; animals > 0 && take < takeStarts[place + 1]!; take += 1) {
        const line = takeLines[take]!
        const wanted = animals * takeItems[take]!
        if (stock[line]! >= wanted) {
          stock[line]! -= wanted
          animals = 0
        } else {
          animals -= stock[line]! / takeItems[take]!
          stock[line] = 0
        }
      }
      if (animals > 1e-9) cost += animals * shortage[place]!
    }
    for (let line = 0; line < lineCount; line += 1) {
      let lasting = stock[line]! * flat.survival[line]!
      const keepDays = flat.keepDays[line]!
      if (keepDays < dayCount) {
        let good = flat.stockGood[line]![day + 1] ?? 0
        for (let back = Math.max(0, day + 2 - keepDays); back <= day; back += 1) good += supply[line]![back]!
        lasting = Math.min(lasting, good)
      }
      cost += (stock[line]! - lasting) * flat.waste[line]!
      stock[line] = lasting
    }
  }
  return cost
}
