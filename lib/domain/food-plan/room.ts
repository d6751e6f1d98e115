import { addDays, daysBetween } from '../calendar/date'
import { answerLater } from './answer'
import {
  DEFAULT_MINUTES_PER_START,
  DEFAULT_SERVICE_LEVEL,
  DEFAULT_WASTE_COST,
  discardAgeOf,
  type FoodCase,
  type FoodClass,
  type FoodLine,
} from './case'
import { leastCounts } from './least'
import { drawScenarios, MOST_STARTS, type Scenario } from './scenario'
import { listSlots, type Slot } from './slot'
import { usualBatches } from './usual-batch'

/** A case as arrays, with its scenarios drawn: what the search and the program both work on. */
export type PlanRoom = {
  foodCase: FoodCase
  lines: readonly FoodLine[]
  classes: readonly FoodClass[]
  dayCount: number
  weekCount: number
  slots: readonly Slot[]
  /** By part of a rule: how much of its count is made in each scenario, 0 to 1. */
  parts: readonly Float64Array[]
  scenarios: readonly Scenario[]
  /** Items in stock today, by line. */
  stock: readonly number[]
  /** Of those, the most that can still be good on each day, by line. */
  stockGood: readonly Float64Array[]
  /** By line. */
  kept: readonly PlanKeeping[]
  /** By class, in the order in which they are fed: dearest first. */
  fed: readonly FedClass[]
  /** By slot. */
  most: readonly number[]
  /** By slot: what batches of different age ask for. */
  least: readonly number[]
  /** By slot: fixed cost of one culture or pack. */
  price: readonly number[]
  /** By line and week: running cultures that stand, and batches of different age among them. */
  standing: readonly Float64Array[]
  batches: readonly Float64Array[]
  minimumBatches: readonly number[]
}

export type PlanKeeping = {
  /** Share of the stock that lives to the next day. */
  survival: number
  wasteCost: number
  /** Days an item can be used; Infinity where only deaths end it. */
  keepDays: number
  starters: number
  starterCostPerItem: number
}

/** What an animal of a class takes: items of a line a day, and what it costs that they are not its first choice. */
export type Take = { line: number; items: number; cost: number }
export type FedClass = { index: number; shortageCost: number; takes: Take[] }

export type RoomOptions = {
  scenarios: number
  seed: string
  /** By line, in place of what is usual for the case. */
  batch?: readonly number[]
  /** Share of its price at which a missed meal is counted; all of it unless said. */
  shortageWeight?: number
  /** First week whose slots answer to what will have been seen; none unless said. */
  answersFrom?: number
}

const NO_STARTERS_COST = 1e4

/** Lays out a case that has been checked; see `readCase`. */
export function layOutRoom(foodCase: FoodCase, options: RoomOptions): PlanRoom {
  const { lines, classes } = foodCase
  const weekCount = foodCase.weeks
  const dayCount = weekCount * 7
  const trunk = listSlots(foodCase, lines, dayCount)
  const batch = options.batch ?? usualBatches(foodCase, trunk)
  const drawn = drawScenarios(
    { foodCase, lines, classes, slots: trunk, dayCount, batch },
    { count: options.scenarios, seed: options.seed },
  )
  const { slots, parts } = answerLater(
    { lines, classes, slots: trunk, scenarios: drawn, dayCount },
    options.answersFrom ?? Number.POSITIVE_INFINITY,
  )
  const scenarios = withParts(drawn, trunk, slots)
  const standing = {
    batches: lines.map((line) => runningByWeek(foodCase, line, 'batches')),
    minimumBatches: lines.map((line) =>
      line.kind === 'culture' && isTaken(foodCase, line) ? (line.minimumBatches ?? 0) : 0,
    ),
    most: slots.map((slot) => mostOf(foodCase, lines[slot.line]!)),
  }
  return {
    foodCase,
    lines,
    classes,
    dayCount,
    weekCount,
    slots,
    parts,
    scenarios,
    stock: lines.map(({ id }) =>
      (foodCase.stock ?? []).reduce((sum, row) => sum + (row.line === id ? row.count : 0), 0),
    ),
    stockGood: lines.map((line) => goodStock(foodCase, line, dayCount)),
    kept: lines.map(keepingOf),
    fed: feedingOrder(foodCase, options.shortageWeight ?? 1),
    ...standing,
    least: leastCounts({ lines, slots, weekCount, ...standing }),
    price: slots.map(({ line }) => priceOf(lines[line]!)),
    standing: lines.map((line) => runningByWeek(foodCase, line, 'cultures')),
  }
}

/** A start gives the same in every part. */
function withParts(scenarios: readonly Scenario[], trunk: readonly Slot[], slots: readonly Slot[]) {
  const places = new Map(trunk.map((slot, index) => [`${slot.line}/${slot.day}`, index]))
  const from = slots.map((slot) => places.get(`${slot.line}/${slot.day}`)!)
  return scenarios.map((scenario) => ({
    ...scenario,
    yieldEach: Float64Array.from(from, (index) => scenario.yieldEach[index]!),
  }))
}

/** How much of a slot's count is made in a scenario. */
export function shareIn(room: Pick<PlanRoom, 'slots' | 'parts'>, slot: number, scenario: number): number {
  const { part } = room.slots[slot]!
  return part === null ? 1 : room.parts[part]![scenario]!
}

/** The same as a mean over the scenarios. */
export function shareOf(room: Pick<PlanRoom, 'slots' | 'parts'>, slot: number): number {
  const { part } = room.slots[slot]!
  if (part === null) return 1
  const row = room.parts[part]!
  return row.reduce((sum, each) => sum + each, 0) / row.length
}

function goodStock({ from, stock = [] }: FoodCase, line: FoodLine, dayCount: number): Float64Array {
  const rows = stock.filter((row) => row.line === line.id)
  return Float64Array.from({ length: dayCount }, (_, day) =>
    rows.reduce((sum, { count, until }) => {
      if (until) return sum + (day <= daysBetween(from, until) ? count : 0)
      return sum + (line.kind === 'bought' ? count * Math.max(0, 1 - day / line.keepDays) : count)
    }, 0),
  )
}

function isTaken({ classes, demand, hatches = [] }: FoodCase, line: FoodLine): boolean {
  const takers = new Set(
    classes.filter(({ accepts }) => accepts.some((each) => each.line === line.id)).map(({ id }) => id),
  )
  return (
    demand.some((row) => row.animals > 0 && takers.has(row.class)) ||
    hatches.some(({ needsByAgeDays }) => needsByAgeDays.some((need) => takers.has(need.class)))
  )
}

function keepingOf(line: FoodLine): PlanKeeping {
  const isCulture = line.kind === 'culture'
  return {
    survival: 1 - Math.min(1, Math.max(0, line.dailyDeathRate ?? 0)),
    wasteCost: line.wasteCost ?? DEFAULT_WASTE_COST,
    keepDays: isCulture ? Number.POSITIVE_INFINITY : Math.max(1, Math.round(line.keepDays)),
    starters: isCulture ? line.starters : 0,
    starterCostPerItem:
      isCulture && line.starters > 0 ? (line.starterCost ?? NO_STARTERS_COST) / line.starters : 0,
  }
}

function priceOf(line: FoodLine): number {
  return line.kind === 'culture' ? line.startCost : line.packCost
}

function mostOf({ limits }: FoodCase, line: FoodLine): number {
  if (line.kind === 'bought') return MOST_STARTS
  const byMinutes =
    (limits?.minutesPerStartDay ?? Number.POSITIVE_INFINITY) /
    (line.minutesPerStart ?? DEFAULT_MINUTES_PER_START)
  return Math.max(
    0,
    Math.floor(
      Math.min(
        MOST_STARTS,
        limits?.shelfPlaces ?? MOST_STARTS,
        limits?.startsPerWeek ?? MOST_STARTS,
        byMinutes,
      ),
    ),
  )
}

/**
 * Those whose hunger costs most are fed first, equals in the order in which they are listed. The price is scaled by the odds of the service level against those of 0.95.
 */
export function feedingOrder(
  { classes, lines, serviceLevel = DEFAULT_SERVICE_LEVEL }: FoodCase,
  weight: number,
): FedClass[] {
  const odds = (level: number) => level / (1 - level)
  const scale = odds(Math.min(0.999, Math.max(0.5, serviceLevel))) / odds(DEFAULT_SERVICE_LEVEL)
  return classes
    .map(({ accepts, shortageCost }, index) => ({
      index,
      shortageCost: shortageCost * scale * weight,
      takes: accepts.flatMap(({ line, itemsPerAnimalDay }, choice) => {
        const at = lines.findIndex(({ id }) => id === line)
        if (at < 0 || !(itemsPerAnimalDay > 0)) return []
        return [{ line: at, items: itemsPerAnimalDay, cost: choice === 0 ? 0 : swapCost(accepts[0]!, lines) }]
      }),
    }))
    .sort((a, b) => b.shortageCost - a.shortageCost)
}

/**
 * What is eaten in place of a first choice counts like that first choice thrown away: a plan that took it for as good
 * would always be short of the first choice, and would eat up somebody else's.
 */
function swapCost(first: FoodClass['accepts'][number], lines: readonly FoodLine[]): number {
  const { wasteCost = DEFAULT_WASTE_COST } = lines.find(({ id }) => id === first.line) ?? {}
  return wasteCost * first.itemsPerAnimalDay
}

/** On the first day of each week. */
function runningByWeek(
  { cultures = [], from, weeks }: FoodCase,
  line: FoodLine,
  count: 'cultures' | 'batches',
): Float64Array {
  const rows = new Float64Array(weeks)
  if (line.kind !== 'culture') return rows
  for (let week = 0; week < weeks; week += 1) {
    const first = addDays(from, week * 7)
    const there = cultures.filter(
      (culture) =>
        culture.line === line.id && daysBetween(culture.startedOn, first) < discardAgeOf(culture, line),
    )
    const alive = there.filter(({ hasCrashed, isSuspect }) => !hasCrashed && !isSuspect)
    rows[week] =
      count === 'cultures'
        ? there.reduce((sum, each) => sum + (each.count ?? 1), 0)
        : new Set(alive.map(({ startedOn }) => startedOn)).size
  }
  return rows
}
