import { addDays, daysBetween } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { FoodCase, FoodClass, FutureHatch } from './case'
import type { FoodPlanWeek } from './plan-week'

/** A class that goes short however the plan is made. */
export type Shortfall = { class: FoodClass; weeks: number[]; animalDays: number }
/** A way to be short of less: what it costs in money, and what is saved all told by it. */
export type WayOut = { what: string; costs: number; saves: number }

/** Weeks in which it is likelier than not that somebody of a class goes short, or that are short of this much. */
const SHORT_CHANCE = 0.5
const SHORT_ANIMAL_DAYS = 7
const MOST_SHORTFALLS = 3
const COOLED_DAYS = 7

export function listShortfalls({ classes }: FoodCase, weeks: readonly FoodPlanWeek[]): Shortfall[] {
  return classes
    .filter(({ accepts }) => accepts.length > 0)
    .map((each) => {
      const rows = weeks.flatMap(({ week, expectedShortage }) =>
        expectedShortage
          .filter((row) => row.class === each.id)
          .filter((row) => row.chanceMet < SHORT_CHANCE && row.animalDays >= SHORT_ANIMAL_DAYS)
          .map((row) => ({ week, animalDays: row.animalDays })),
      )
      const animalDays = rows.reduce((sum, row) => sum + row.animalDays, 0)
      return { class: each, weeks: rows.map(({ week }) => week), animalDays }
    })
    .filter(({ animalDays }) => animalDays > 0)
    .sort((a, b) => b.animalDays - a.animalDays)
    .slice(0, MOST_SHORTFALLS)
}

/**
 * Ways out of a shortfall, the one that leaves most first. `savedBy` plays the same starts and orders on a changed
 * case and says what that saves.
 */
export function listWaysOut(
  foodCase: FoodCase,
  shortfall: Shortfall,
  savedBy: (changed: FoodCase) => number,
): WayOut[] {
  const ways = [buyMore, coolHatch, sellEarlier].flatMap((way) => way(foodCase, shortfall, savedBy))
  return ways
    .filter(({ saves, costs }) => saves > costs)
    .sort((a, b) => b.saves - b.costs - (a.saves - a.costs))
}

type Way = (foodCase: FoodCase, shortfall: Shortfall, savedBy: (changed: FoodCase) => number) => WayOut[]

/** A line that is bought and that the class takes, beyond what is ordered already. */
const buyMore: Way = (foodCase, { class: taker, weeks, animalDays }, savedBy) => {
  const { from, lines, deliveries = [] } = foodCase
  return taker.accepts.flatMap(({ line: id, itemsPerAnimalDay }): WayOut[] => {
    const line = lines.find((each) => each.id === id)
    if (line?.kind !== 'bought') return []
    const day = Math.max(line.leadDays, (weeks[0]! - 1) * 7)
    const packs = Math.ceil((animalDays * itemsPerAnimalDay) / line.packSize)
    const orderOn = addDays(from, day - line.leadDays)
    const bought = [...deliveries, { line: id, on: addDays(from, day), count: packs * line.packSize }]
    return [
      {
        what: `buy ${packs} more ${packs === 1 ? 'pack' : 'packs'} of ${line.name ?? id} on ${writeDay(orderOn, from)}`,
        costs: packs * line.packCost,
        saves: savedBy({ ...foodCase, deliveries: bought }),
      },
    ]
  })
}

/** The hatch that wants most in the short weeks, a week later. */
const coolHatch: Way = (foodCase, shortfall, savedBy) => {
  const { hatches = [] } = foodCase
  const wants = hatches.map((hatch) => wantedBy(foodCase, hatch, shortfall))
  const most = wants.indexOf(Math.max(...wants))
  const hatch = hatches[most]
  if (!hatch || !(wants[most]! > 0)) return []
  const later = { ...hatch, on: addDays(hatch.on, COOLED_DAYS) }
  const saves = savedBy({ ...foodCase, hatches: hatches.with(most, later) })
  return [{ what: `keep ${hatch.id} cooler, so that it hatches a week later`, costs: 0, saves }]
}

function wantedBy({ from }: FoodCase, hatch: FutureHatch, { class: taker, weeks }: Shortfall): number {
  const [first, last] = [(weeks[0]! - 1) * 7, weeks.at(-1)! * 7 - 1]
  const age = (day: number) => day - daysBetween(from, hatch.on)
  const inTime = hatch.needsByAgeDays.filter(
    (need) => need.class === taker.id && need.fromDay <= age(last) && need.fromDay + 28 >= age(first),
  )
  const most = Math.max(0, ...inTime.map(({ animals }) => animals))
  return most * hatch.count * (hatch.chance ?? 1)
}

/** As many animals fewer as are short on a day, sold before the first short week. */
const sellEarlier: Way = (foodCase, { class: taker, weeks, animalDays }, savedBy) => {
  const { from, demand } = foodCase
  const until = addDays(from, (weeks[0]! - 1) * 7)
  const fewer = Math.ceil(animalDays / (7 * weeks.length))
  const rows = new Map<string, number>()
  for (const row of demand)
    if (row.class === taker.id) rows.set(row.on, (rows.get(row.on) ?? 0) + row.animals)
  const changed = demand.map((row) => {
    if (row.class !== taker.id || row.on < until) return row
    const there = rows.get(row.on)!
    return there > 0 ? { ...row, animals: row.animals * Math.max(0, 1 - fewer / there) } : row
  })
  const saves = savedBy({ ...foodCase, demand: changed })
  const when = until === from ? 'at once' : `before ${writeDay(until, from)}`
  const what = taker.isOtherMouth
    ? `buy elsewhere for ${taker.name ?? taker.id}, or let them wait`
    : `sell ${fewer} ${taker.name ?? `of ${taker.id}`} ${when}`
  return [{ what, costs: 0, saves }]
}

/** One sentence a shortfall. */
export function sayShortfall(
  { class: taker, weeks, animalDays }: Shortfall,
  ways: readonly WayOut[],
): string {
  const [first, last] = [weeks[0]!, weeks.at(-1)!]
  const when = first === last ? `week ${first}` : `weeks ${first} to ${last}`
  const short = `About ${Math.round(animalDays)} animal-days of ${taker.name ?? taker.id} cannot be fed in ${when}`
  if (ways.length === 0) return `${short}, and nothing tried here would help.`
  const [best, second] = ways
  const also = second ? `; or ${second.what}` : ''
  return `${short}. The cheapest way out: ${best!.what}${also}.`
}
