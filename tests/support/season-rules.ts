import { daysBetween } from '@/lib/domain/calendar/date'
import { expectedHarvests } from '@/lib/domain/culture/running'
import type { FoodCase, FoodLine } from '@/lib/domain/food-plan/case'
import { normalBelow } from '@/lib/domain/probability/normal'
import type { SeasonPolicy } from './season-play'

/** Rules by which people start cultures without a plan, each with the numbers it is tuned by. */
export type Tuning = readonly number[]
export type TunedRule = {
  name: string
  /** Values tried for each of its numbers. */
  grid: readonly (readonly number[])[]
  policy: (tuning: Tuning) => SeasonPolicy
}

/** By what is expected, which is the same for every rule and tuning. */
const expectations = new WeakMap<readonly unknown[], Float64Array[]>()
const LONGEST_DAYS = 63

/** Expected first-choice items by line and day: rows of demand and hatches by their chance of each day. */
export function expectItems(seen: FoodCase): Float64Array[] {
  const known = expectations.get(seen.demand) ?? addItems(seen, LONGEST_DAYS)
  expectations.set(seen.demand, known)
  return known
}

function addItems(seen: FoodCase, days: number): Float64Array[] {
  const animals = expectAnimals(seen, days)
  const items = seen.lines.map(() => new Float64Array(days))
  seen.classes.forEach(({ accepts }, index) => {
    const first = accepts[0]!
    const line = seen.lines.findIndex(({ id }) => id === first.line)
    for (let day = 0; day < days; day += 1)
      items[line]![day]! += animals[index]![day]! * first.itemsPerAnimalDay
  })
  return items
}

function expectAnimals(seen: FoodCase, days: number): Float64Array[] {
  const animals = seen.classes.map(() => new Float64Array(days))
  const classOf = new Map(seen.classes.map(({ id }, index) => [id, index]))
  for (const row of seen.demand) {
    const day = daysBetween(seen.from, row.on)
    if (day >= 0 && day < days) animals[classOf.get(row.class)!]![day]! += row.animals
  }
  for (const { on, sdDays = 0, count, chance = 1, needsByAgeDays } of seen.hatches ?? []) {
    const expected = daysBetween(seen.from, on)
    const byAge = seen.classes.map(() => new Float64Array(days))
    const last = new Map<string, { fromDay: number; animals: number }>()
    for (const need of [
      ...needsByAgeDays,
      ...seen.classes.map(({ id }) => ({ class: id, fromDay: days, animals: 0 })),
    ]) {
      const before = last.get(need.class)
      for (let age = before?.fromDay ?? days; age < Math.min(days, need.fromDay); age += 1)
        byAge[classOf.get(need.class)!]![age] = before!.animals
      last.set(need.class, need)
    }
    const cut = normalBelow((-0.5 - expected) / sdDays)
    for (let day = 0; day < days; day += 1) {
      const weight =
        (normalBelow((day + 0.5 - expected) / sdDays) - normalBelow((day - 0.5 - expected) / sdDays)) /
        (1 - cut)
      if (weight < 1e-4) continue
      byAge.forEach((ages, index) => {
        for (let age = 0; day + age < days; age += 1)
          animals[index]![day + age]! += weight * chance * count * ages[age]!
      })
    }
  }
  return animals
}

function expectSupply(seen: FoodCase, days: number): Float64Array[] {
  const supply = seen.lines.map(() => new Float64Array(days))
  for (const culture of seen.cultures ?? []) {
    const index = seen.lines.findIndex(({ id }) => id === culture.line)
    const line = seen.lines[index]!
    if (line.kind !== 'culture') continue
    const law = { ...line.yield, curve: line.curve, crashShare: 0.1, delayCv: 0.05 }
    const age = daysBetween(culture.startedOn, seen.from)
    expectedHarvests(culture, law, { from: seen.from, days }).forEach((mean, day) => {
      if (age + day < line.discardAfterDays) supply[index]![day]! += mean
    })
  }
  for (const { line, on, count } of seen.deliveries ?? []) {
    const day = daysBetween(seen.from, on)
    if (day < days) supply[seen.lines.findIndex(({ id }) => id === line)]![day]! += count
  }
  return supply
}

const meanYield = (line: FoodLine) =>
  line.kind === 'culture' ? line.yield.mean * (1 - 0.9 * line.yield.crashChance) : line.packSize

/** The same number every week: for the two cultures and the bought line. */
const constant: TunedRule = {
  name: 'constant',
  grid: [
    [1, 2, 3, 4, 6, 8, 11, 15],
    [1, 2, 3, 4, 6, 8, 11, 15],
    [1, 2, 3, 4, 5],
  ],
  policy: (tuning) => () => tuning,
}

const SAFETIES = [0.6, 0.8, 1, 1.2, 1.5, 1.9, 2.4]

/** As many as this week's appetite would need for ever. */
const proportional: TunedRule = {
  name: 'proportional',
  grid: [SAFETIES, SAFETIES, SAFETIES],
  policy: (tuning) => (seen) => {
    const items = expectItems(seen)
    return seen.lines.map((line, index) =>
      Math.round((tuning[index]! * sum(items[index]!.subarray(0, 7))) / meanYield(line)),
    )
  },
}

/** Needs ahead, weighted by when this start would give. */
const lookAhead: TunedRule = {
  name: 'look-ahead',
  grid: [SAFETIES, SAFETIES, SAFETIES],
  policy: (tuning) => (seen) => {
    const items = expectItems(seen)
    return seen.lines.map((line, index) => {
      const curve =
        line.kind === 'culture' ? line.curve : [0, 0, 0, ...Array.from({ length: 7 }, () => 1 / 7)]
      const weighted = curve.reduce((total, share, day) => total + share * (items[index]![day] ?? 0), 0)
      return Math.round((tuning[index]! * 7 * weighted) / meanYield(line))
    })
  },
}

/**
 * What would be short over the days that this start covers, as stock and cultures are expected to go, with the
 * need multiplied by a safety. Numbers: safety by line, days covered by the cultures, whether it rounds up.
 */
const baseStock: TunedRule = {
  name: 'base stock',
  grid: [SAFETIES, SAFETIES, SAFETIES, [7, 11, 16, 22], [0.2, 0.5, 0.8]],
  policy: (tuning) => (seen) => {
    const items = expectItems(seen)
    const supply = expectSupply(seen, 17 + tuning[3]!)
    return seen.lines.map((line, index) => {
      const lead = line.kind === 'culture' ? (line.id === 'mel' ? 9 : 17) : line.leadDays
      const until = lead + (line.kind === 'culture' ? tuning[3]! : 7)
      const survival = 1 - (line.dailyDeathRate ?? 0)
      let stock = seen.stock?.find((row) => row.line === line.id)?.count ?? 0
      let short = 0
      for (let day = 0; day < until; day += 1) {
        stock += supply[index]![day]! - tuning[index]! * items[index]![day]!
        if (stock < 0 && day >= lead) short -= stock
        stock = Math.max(0, stock) * survival
      }
      const share = line.kind === 'culture' ? sum(line.curve.slice(0, until)) : 1
      return Math.floor(short / (meanYield(line) * share) + tuning[4]!)
    })
  },
}

export const TUNED_RULES: readonly TunedRule[] = [constant, proportional, lookAhead, baseStock]

function sum(list: ArrayLike<number>): number {
  let total = 0
  for (let index = 0; index < list.length; index += 1) total += list[index]!
  return total
}
