import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { emergenceCurve } from '@/lib/domain/culture/emergence'
import type { FoodClass, FoodLine } from '@/lib/domain/food-plan/case'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import { lognormalBelow } from '@/lib/domain/probability/lognormal'
import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'

/**
 * Rooms for the season simulator, drawn from a seed. What happens is laid down here once, so that every policy
 * meets the same hatches, the same growth and, culture for culture, the same yields.
 */
export type RoomKind = 'steady' | 'bursts' | 'winter sell-down'
export type YieldRegime = 'even' | 'uneven'
export const ROOM_KINDS: readonly RoomKind[] = ['steady', 'bursts', 'winter sell-down']
export const YIELD_REGIMES: readonly YieldRegime[] = ['even', 'uneven']

export const SEASON = {
  begins: '2027-01-04' as PlainDate,
  /** Played before anything is counted. */
  burnInDays: 42,
  countedDays: 140,
  horizonWeeks: 9,
  knownBeforeHatchDays: 38,
}
export const SEASON_DAYS = SEASON.burnInDays + SEASON.countedDays

/** An egg case with what is expected of it and what comes of it. */
export type SeasonHatch = {
  id: string
  expectedDay: number
  sdDays: number
  expectedCount: number
  cv: number
  chance: number
  /** From this day on people know of it. */
  knownFrom: number
  /** The truth; null where nothing hatches. */
  hatchedOn: number | null
  count: number
  growth: number
  hazard: number
}

export type Season = {
  seed: string
  kind: RoomKind
  regime: YieldRegime
  lines: FoodLine[]
  classes: FoodClass[]
  hatches: SeasonHatch[]
  /** Share of older animals sold a day. */
  saleRate: (day: number) => number
  /** Flies of the k-th culture of a line started on a day, and its delay in days. */
  yieldOf: (line: number, day: number, culture: number) => { total: number; lateDays: number }
}

const UPPER_AGES = [12, 24, 38, 54, 75, Number.POSITIVE_INFINITY]
const LOSS_PER_DAY = [0.0186, 0.0107, 0.0052, 0.0026, 0.0019, 0.004]
const AGE_SPREAD = 0.12
const SOLD_FROM_AGE = 40

/** Shares of a clutch by class at an age. */
export function classShares(age: number): number[] {
  if (age <= 0) return UPPER_AGES.map((_, index) => (index === 0 ? 1 : 0))
  const beyond = UPPER_AGES.map((upper) =>
    upper === Number.POSITIVE_INFINITY
      ? 0
      : 1 - lognormalBelow({ logMean: Math.log(upper), logSd: AGE_SPREAD }, age),
  )
  const passed = beyond.map((share) => 1 - share)
  return UPPER_AGES.map((_, index) => {
    const isLast = index === UPPER_AGES.length - 1
    return (index === 0 ? 1 : passed[index - 1]!) - (isLast ? 0 : passed[index]!)
  })
}

const SHARES = Array.from({ length: 4000 }, (_, tenth) => classShares(tenth / 10))
export const sharesAt = (age: number): number[] => SHARES[Math.min(3999, Math.max(0, Math.round(age * 10)))]!

/** Share that lives through a day at an age, sales included. */
export function dailySurvival(age: number, saleRate: number, hazard = 1): number {
  const stage = UPPER_AGES.findIndex((upper) => age < upper)
  const old = age > 170 ? 0.05 : 0
  return Math.exp(-hazard * (LOSS_PER_DAY[stage]! + old) - (age >= SOLD_FROM_AGE ? saleRate : 0))
}

const curveOf = (id: string) => {
  const supply = DEFAULT_PREY_LINES.find((line) => line.id === id)!.supply
  if (supply.kind !== 'culture') throw new Error(`${id} is no culture`)
  return emergenceCurve(supply.curve.value, { temperatureC: 24.5, days: 60 })
}
const CURVES = { mel: curveOf('melanogaster'), hyd: curveOf('hydei') }

function linesOf(regime: YieldRegime): FoodLine[] {
  const law = regime === 'even' ? { cv: 0.3, crashChance: 0.04 } : { cv: 0.75, crashChance: 0.12 }
  const culture = {
    kind: 'culture' as const,
    starters: 40,
    startCost: 100,
    starterCost: 300,
    minimumBatches: 0,
  }
  return [
    {
      ...culture,
      id: 'mel',
      yield: { mean: 400, ...law },
      curve: CURVES.mel,
      dailyDeathRate: 0.12,
      discardAfterDays: 35,
    },
    {
      ...culture,
      id: 'hyd',
      yield: { mean: 250, ...law },
      curve: CURVES.hyd,
      dailyDeathRate: 0.1,
      discardAfterDays: 45,
    },
    {
      id: 'bottle',
      kind: 'bought',
      packSize: 100,
      packCost: 350,
      leadDays: 3,
      keepDays: 10,
      dailyDeathRate: 0.03,
    },
  ]
}

const CLASSES: FoodClass[] = [
  { id: 'first', shortageCost: 200, accepts: [{ line: 'mel', itemsPerAnimalDay: 2 }] },
  {
    id: 'second',
    shortageCost: 200,
    accepts: [
      { line: 'mel', itemsPerAnimalDay: 4 },
      { line: 'hyd', itemsPerAnimalDay: 1.8 },
    ],
  },
  {
    id: 'third',
    shortageCost: 200,
    accepts: [
      { line: 'hyd', itemsPerAnimalDay: 2 },
      { line: 'mel', itemsPerAnimalDay: 5 },
    ],
  },
  {
    id: 'fourth',
    shortageCost: 200,
    accepts: [
      { line: 'hyd', itemsPerAnimalDay: 3.5 },
      { line: 'bottle', itemsPerAnimalDay: 0.6 },
      { line: 'mel', itemsPerAnimalDay: 9 },
    ],
  },
  {
    id: 'fifth',
    shortageCost: 200,
    accepts: [
      { line: 'bottle', itemsPerAnimalDay: 0.8 },
      { line: 'hyd', itemsPerAnimalDay: 6 },
    ],
  },
  { id: 'late', shortageCost: 200, accepts: [{ line: 'bottle', itemsPerAnimalDay: 0.7 }] },
]

export function drawSeason(seed: string, kind: RoomKind, regime: YieldRegime): Season {
  const stream = seededStream(`${seed}/${kind}`)
  const lines = linesOf(regime)
  const known = new Map<string, { total: number; lateDays: number }>()
  return {
    seed,
    kind,
    regime,
    lines,
    classes: CLASSES,
    hatches: drawHatches(kind, stream),
    saleRate: saleRates(kind),
    yieldOf: (line, day, culture) => {
      const key = `${line}/${day}/${culture}`
      const found = known.get(key) ?? drawYield(lines[line]!, seededStream(`${seed}/${regime}/yield/${key}`))
      known.set(key, found)
      return found
    },
  }
}

function drawYield(line: FoodLine, stream: SeededStream) {
  if (line.kind !== 'culture') return { total: 0, lateDays: 0 }
  const { mean, cv, crashChance } = line.yield
  const hasCrashed = stream.chance(crashChance)
  const own = mean * stream.gamma(1 / cv ** 2, cv ** 2)
  return {
    total: hasCrashed ? 0.1 * mean : own,
    lateDays: stream.normal(0, 0.05 * (line.id === 'mel' ? 10 : 17)),
  }
}

function saleRates(kind: RoomKind): (day: number) => number {
  if (kind !== 'winter sell-down') return () => 0.02
  const [from, until] = [SEASON.burnInDays + 28, SEASON.burnInDays + 70]
  return (day) => (day < from ? 0.015 : day < until ? 0.05 : 0.02)
}

function drawHatches(kind: RoomKind, stream: SeededStream): SeasonHatch[] {
  const hatches: SeasonHatch[] = []
  const add = (expectedDay: number, expectedCount: number) => {
    const [sdDays, cv, chance] = [4, 0.4, 0.85]
    const isFertile = stream.chance(chance)
    const hatchedOn = Math.round(stream.normal(expectedDay, sdDays))
    hatches.push({
      id: `E-${hatches.length + 1}`,
      expectedDay,
      sdDays,
      expectedCount,
      cv,
      chance,
      knownFrom: expectedDay - SEASON.knownBeforeHatchDays,
      hatchedOn: isFertile ? hatchedOn : null,
      count: expectedCount * stream.gamma(1 / cv ** 2, cv ** 2),
      growth: stream.lognormal(0, 0.1),
      hazard: stream.gamma(6, 1 / 6),
    })
  }
  const end = SEASON_DAYS + 70
  const lastLaid = kind === 'winter sell-down' ? SEASON.burnInDays + 45 : end
  let day = -130
  while (day < Math.min(end, lastLaid)) {
    if (kind === 'bursts') {
      const cases = stream.integer(2, 4)
      for (let one = 0; one < cases; one += 1) add(day + stream.integer(0, 9), 80)
      day += stream.integer(26, 48)
    } else {
      add(day, kind === 'steady' ? 45 : 60)
      day += stream.integer(5, 13)
    }
  }
  return hatches
}

const DATES = new Map<number, PlainDate>()
export function dateOf(day: number): PlainDate {
  const date = DATES.get(day) ?? addDays(SEASON.begins, day)
  DATES.set(day, date)
  return date
}
