import type { PlainDate } from '../calendar/date'
import type { Harvest } from '../culture/running'

/**
 * Everything a food plan rests on, as plain values: a workspace's records are turned into one, and anybody may
 * post one. Money is in minor units, items are single prey animals, animals may be fractions (expected numbers).
 */
export type FoodCase = {
  from: PlainDate
  /** 1–26. */
  weeks: number
  /** Chance per class and week that nobody goes short; a shortage costs what it says at 0.95. */
  serviceLevel?: number
  lines: readonly FoodLine[]
  classes: readonly FoodClass[]
  demand: readonly DemandRow[]
  stock?: readonly StockRow[]
  cultures?: readonly CaseCulture[]
  /** Packs on their way. */
  deliveries?: readonly Delivery[]
  hatches?: readonly FutureHatch[]
  limits?: FoodLimits
  /** Animals of the room that stand in no class, since no line feeds them: left out, and said. */
  unfed?: readonly { species: string; stage: string; animals: number }[]
}

export type FoodLine = CultureLine | BoughtLine

type LineBasics = {
  id: string
  name?: string
  /** Share of the stock that dies a day. */
  dailyDeathRate?: number
  /** What one item had and not eaten costs, minor units; 1 unless said otherwise. */
  wasteCost?: number
}

export type CultureLine = LineBasics & {
  kind: 'culture'
  /** Of cultures that do not crash; a crash gives a tenth. */
  yield: { mean: number; cv: number; crashChance: number }
  /** Share of the yield that emerges on each day after the start, day 0 first. */
  curve: readonly number[]
  /** How far cultures differ in their delay, as a share of it; 0.05 unless said otherwise. */
  delayCv?: number
  /** Items that start one culture. */
  starters: number
  startCost: number
  /** Starters of one culture, bought when stock has none. */
  starterCost?: number
  discardAfterDays: number
  /** Live batches of different age that a line in use is never without; 0 for none. */
  minimumBatches?: number
  minutesPerStart?: number
}

export type BoughtLine = LineBasics & {
  kind: 'bought'
  packSize: number
  packCost: number
  leadDays: number
  /** Days from arrival (or, with a curve, from emergence) until an item is past use. */
  keepDays: number
  /** Bought pupae: share that emerges on each day after arrival. */
  curve?: readonly number[]
  /** ISO weekdays on which an order can be placed; the weekday of `from` unless said otherwise. */
  orderWeekdays?: readonly number[]
  /** Of those days the most that are used in a calendar week, since a parcel costs the same with little in it. */
  ordersPerWeek?: 1 | 2
}

/** Animals fed alike: what they take, first choice first. */
export type FoodClass = {
  id: string
  name?: string
  /** Of one animal that goes without for one day, minor units. */
  shortageCost: number
  accepts: readonly { line: string; itemsPerAnimalDay: number }[]
  /** Nobody of the room, so nobody who could be sold: frogs next door, a customer's box. */
  isOtherMouth?: true
}

/** Animals of a class to be fed on a day: expected number and its spread. */
export type DemandRow = { class: string; on: PlainDate; animals: number; sd?: number }

/**
 * Items there today. Bought ones are past use after `until`; where nobody says so they are taken to be of any age
 * up to their keeping time.
 */
export type StockRow = { line: string; count: number; until?: PlainDate }

export type CaseCulture = {
  id?: string
  line: string
  startedOn: PlainDate
  /** As many alike; 1 unless said otherwise. */
  count?: number
  harvested?: readonly Harvest[]
  hasCrashed?: boolean
  /** Suspected of mites: fed out, discounted, never a source of starters. */
  isSuspect?: boolean
  /** Sold or to be discarded on this day: from then on it gives nothing. */
  until?: PlainDate
  /** What came from this day on is in it still and stands in no stock; left out: all that came is accounted for. */
  uncountedSince?: PlainDate
  /** Its own share per day, where it stood cooler or warmer than the others; the line's where left out. */
  curve?: readonly number[]
  /** Of what a usual one gives, where it was made too full or too thin. */
  yieldShare?: number
  /** Its own age to be discarded at, where it lived slower or faster. */
  discardAfterDays?: number
}

export type Delivery = { line: string; on: PlainDate; count: number }

/**
 * A hatch still to come. Its need is animals per hatchling in a class from a day of age on: an entry holds until
 * the next one of the same class or, where no class comes twice, until the next one of any class.
 */
export type FutureHatch = {
  id: string
  on: PlainDate
  sdDays?: number
  count: number
  cv?: number
  /** That it hatches at all. */
  chance?: number
  needsByAgeDays: readonly { class: string; fromDay: number; animals: number }[]
}

export type FoodLimits = {
  /** Cultures that can stand at once. */
  shelfPlaces?: number
  startsPerWeek?: number
  /** Minutes for starting cultures on a start day. */
  minutesPerStartDay?: number
  /** ISO weekdays on which cultures are started; the weekday of `from` unless said otherwise. */
  startWeekdays?: readonly number[]
  /** Days on which nobody works. */
  closedDays?: readonly PlainDate[]
  /** Days on which the supplier neither takes orders nor delivers. */
  supplierClosedDays?: readonly PlainDate[]
}

export const MOST_WEEKS = 26
export const DEFAULT_SERVICE_LEVEL = 0.95
export const CRASH_SHARE = 0.1
export const DEFAULT_DELAY_CV = 0.05
export const DEFAULT_WASTE_COST = 1
export const DEFAULT_MINUTES_PER_START = 4

/** The age at which a running culture goes: its own where it lived slower or faster than others. */
export function discardAgeOf(culture: CaseCulture, line: CultureLine): number {
  return culture.discardAfterDays ?? line.discardAfterDays
}
