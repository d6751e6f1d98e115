import { type Entry, type LinearProgram, type ProgramBuilder, programBuilder } from '../program/linear'
import { limitRows, openLimits } from './limit'
import { shareInTime } from './play'
import { type PlanRoom, shareIn, shareOf } from './room'

/**
 * The plan as a mixed-integer program. One column per slot, shared by all scenarios; in each scenario, every day:
 *
 *   stock + what dies after it = yesterday's stock that lived + what emerges or arrives + starters bought
 *                                − starters taken − eaten
 *   eaten + missed = needed, class by class
 *
 * Stock is kept after feeding; what does not live to the next day is wasted and paid for. Cost: starts, packs,
 * starters bought, waste and missed meals, the latter three as means over the scenarios. O(scenarios × days ×
 * (lines + accepted lines)).
 */
export type FoodProgram = {
  program: LinearProgram
  /** Column of each slot. */
  slotColumns: readonly number[]
}

export type ProgramOptions = {
  /** Days whose starts and orders are whole numbers. */
  wholeDays: number
  /** Scenarios to take; all unless said otherwise. */
  scenarios?: readonly number[]
}

/** Starts and orders of the next two weeks are whole, those after them are revised before they are made. */
export const WHOLE_DAYS = 14

export function buildFoodProgram(room: PlanRoom, options: ProgramOptions): FoodProgram {
  const builder = programBuilder()
  const scenarios = options.scenarios ?? room.scenarios.map((_, scenario) => scenario)
  const fitting = [...room.least]
  openLimits(room)(fitting)
  const slotColumns = room.slots.map((slot, index) =>
    builder.addColumn({
      cost: room.price[index]! * shareInTime(room, index) * shareOf(room, index),
      lower: fitting[index]!,
      upper: room.most[index]!,
      isWhole: slot.part === null && slot.day < options.wholeDays,
    }),
  )
  for (const { slots, weights, most } of limitRows(room))
    builder.addRow(
      slots.map((slot, place): Entry => [slotColumns[slot]!, weights[place]!]),
      { upper: most },
    )
  const gives = slotsByLine(room)
  for (const scenario of scenarios)
    addScenario(builder, room, { scenario, weight: 1 / scenarios.length, slotColumns, gives })
  return { program: builder.build(), slotColumns }
}

type At = {
  scenario: number
  weight: number
  slotColumns: readonly number[]
  gives: readonly (readonly number[])[]
}

function slotsByLine(room: PlanRoom): number[][] {
  return room.lines.map((_, line) =>
    room.slots.flatMap((slot, index) => (slot.line === line && room.most[index]! > 0 ? [index] : [])),
  )
}

function addScenario(builder: ProgramBuilder, room: PlanRoom, at: At): void {
  const eats = addNeeds(builder, room, at)
  room.lines.forEach((_, line) => {
    const keeps = addLine(builder, room, { ...at, line, eats: eats[line]! })
    addKeeping(builder, room, { ...at, line, keeps })
  })
}

/** Rows of needs; returns by line and day what is eaten of it: columns with items. */
function addNeeds(builder: ProgramBuilder, room: PlanRoom, { scenario, weight }: At): Entry[][][] {
  const eats = room.lines.map(() => Array.from({ length: room.dayCount }, (): Entry[] => []))
  for (const { index, shortageCost, takes } of room.fed) {
    const need = room.scenarios[scenario]!.need[index]!
    for (let day = 0; day < room.dayCount; day += 1) {
      const animals = need[day]!
      if (!(animals > 0)) continue
      const missed = builder.addColumn({ cost: weight * shortageCost, upper: animals })
      const row: Entry[] = [[missed, 1]]
      for (const { line, items, cost } of takes) {
        const eaten = builder.addColumn({ cost: weight * cost })
        row.push([eaten, 1])
        eats[line]![day]!.push([eaten, items])
      }
      builder.addRow(row, { lower: animals, upper: animals })
    }
  }
  return eats
}

type LineAt = At & { line: number; eats: readonly (readonly Entry[])[] }
type Keeps = { stock: number; lasting: number }

/** One balance a day. Where an item can be past use, what lasts of the stock is a column of its own. */
function addLine(builder: ProgramBuilder, room: PlanRoom, at: LineAt): Keeps[] {
  const { survival, wasteCost, keepDays } = room.kept[at.line]!
  const isPerishable = keepDays < room.dayCount
  const keeps: Keeps[] = []
  for (let day = 0; day < room.dayCount; day += 1) {
    const cost = at.weight * wasteCost * (isPerishable ? 1 : 1 - survival)
    const stock = builder.addColumn({ cost })
    const lasting = isPerishable ? builder.addColumn({ cost: -at.weight * wasteCost }) : stock
    const before = keeps.at(-1)
    const entries: Entry[] = [[stock, 1], ...at.eats[day]!, ...givenOn(room, at, day)]
    if (before) entries.push([before.lasting, isPerishable ? -1 : -survival])
    entries.push(...addStarters(builder, room, { ...at, day }))
    const there = room.scenarios[at.scenario]!.supply[at.line]![day]! + (before ? 0 : room.stock[at.line]!)
    builder.addRow(entries, { lower: there, upper: there })
    keeps.push({ stock, lasting })
  }
  return keeps
}

/** What the slots of a line give on a day, as entries on the left of its balance. */
function givenOn(room: PlanRoom, { scenario, line, slotColumns, gives }: At & { line: number }, day: number) {
  return gives[line]!.flatMap((slot): Entry[] => {
    const share = givenBy(room, { scenario, slot, day })
    return share > 0 ? [[slotColumns[slot]!, -share]] : []
  })
}

/** Items that one culture or pack of a slot gives on a day of a scenario. */
export function givenBy(
  room: PlanRoom,
  { scenario, slot, day }: { scenario: number; slot: number; day: number },
): number {
  const { line: index, day: begun, arrives } = room.slots[slot]!
  const line = room.lines[index]!
  const part = shareIn(room, slot, scenario)
  if (part === 0) return 0
  if (line.kind === 'bought') return part * line.packSize * ((line.curve ?? [1])[day - arrives] ?? 0)
  if (day - begun >= line.discardAfterDays) return 0
  return part * room.scenarios[scenario]!.yieldEach[slot]! * (line.curve[day - begun] ?? 0)
}

/** Starters taken out of the balance of their day, less those that are bought. */
function addStarters(
  builder: ProgramBuilder,
  room: PlanRoom,
  at: At & { line: number; day: number },
): Entry[] {
  const { starters, starterCostPerItem } = room.kept[at.line]!
  if (starters === 0) return []
  const begun = at.gives[at.line]!.filter(
    (slot) => room.slots[slot]!.day === at.day && shareIn(room, slot, at.scenario) > 0,
  )
  if (begun.length === 0) return []
  const taken = begun.map(
    (slot): Entry => [at.slotColumns[slot]!, starters * shareIn(room, slot, at.scenario)],
  )
  const bought = builder.addColumn({ cost: at.weight * starterCostPerItem })
  builder.addRow([...taken, [bought, -1]], { lower: 0 })
  return [...taken, [bought, -1]]
}

/** No more lasts than lives, and no more than has come within the days that it keeps. */
function addKeeping(
  builder: ProgramBuilder,
  room: PlanRoom,
  at: At & { line: number; keeps: readonly Keeps[] },
): void {
  const { survival, keepDays } = room.kept[at.line]!
  if (keepDays >= room.dayCount) return
  const supply = room.scenarios[at.scenario]!.supply[at.line]!
  at.keeps.forEach(({ stock, lasting }, day) => {
    builder.addRow(
      [
        [lasting, 1],
        [stock, -survival],
      ],
      { upper: 0 },
    )
    const first = Math.max(0, day + 2 - keepDays)
    const given = new Map<number, number>()
    let good = room.stockGood[at.line]![day + 1] ?? 0
    for (let back = first; back <= day; back += 1) {
      good += supply[back]!
      for (const [column, share] of givenOn(room, at, back))
        given.set(column, (given.get(column) ?? 0) + share)
    }
    builder.addRow([[lasting, 1], ...given], { upper: good })
  })
}
