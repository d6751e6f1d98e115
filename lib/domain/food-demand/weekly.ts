import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { FoodClass, FutureHatch } from '../food-plan/case'
import { normalBelow, Z_OF_90 } from '../probability/normal'
import type { FoodDemand } from './demand'

/** What one line is needed for in one week, as first choice, in items of it. */
export type LineWeek = {
  line: string
  mean: number
  sd: number
  p10: number
  p90: number
  byStage: { stage: string; animals: number; items: number }[]
}
export type DemandWeek = { from: PlainDate; until: PlainDate; lines: LineWeek[] }

/** Animal-days of a class in a week: what stands there, and what each hatch may add. */
type ClassWeek = { animalDays: number; variance: number }

/**
 * Items per line and week, each class by its first choice. Standing stages are taken to differ each for itself,
 * days of a week together; a hatch is a chance of its own on its days. O(classes × weeks + hatches × days).
 */
export function demandByWeek(demand: FoodDemand, span: { from: PlainDate; weeks: number }): DemandWeek[] {
  const rows = standingWeeks(demand, span)
  const hatches = demand.hatches.map((hatch) => hatchWeeks(hatch, demand.classes, span))
  return Array.from({ length: span.weeks }, (_, week) => {
    const from = addDays(span.from, week * 7)
    const lines = new Map<string, LineWeek & { variance: number }>()
    for (const { id, name, accepts } of demand.classes) {
      const first = accepts[0]
      const own = rows.get(id)?.[week]
      if (!first) continue
      const known = lines.get(first.line) ?? emptyWeek(first.line)
      lines.set(first.line, known)
      const hatched = hatches.reduce((sum, hatch) => sum + (hatch.byClass.get(id)?.[week] ?? 0), 0)
      const animalDays = (own?.animalDays ?? 0) + hatched
      known.mean += animalDays * first.itemsPerAnimalDay
      known.variance += (own?.variance ?? 0) * first.itemsPerAnimalDay ** 2
      if (animalDays > 0.05)
        known.byStage.push({
          stage: name ?? id,
          animals: animalDays / 7,
          items: animalDays * first.itemsPerAnimalDay,
        })
    }
    for (const hatch of hatches)
      for (const [line, variances] of hatch.varianceByLine) {
        const known = lines.get(line)
        if (known) known.variance += variances[week] ?? 0
      }
    return { from, until: addDays(from, 6), lines: [...lines.values()].map(finish) }
  })
}

function emptyWeek(line: string): LineWeek & { variance: number } {
  return { line, mean: 0, sd: 0, p10: 0, p90: 0, byStage: [], variance: 0 }
}

function finish({ variance, ...week }: LineWeek & { variance: number }): LineWeek {
  const sd = Math.sqrt(variance)
  return {
    ...week,
    sd,
    p10: Math.max(0, week.mean - Z_OF_90 * sd),
    p90: week.mean + Z_OF_90 * sd,
    byStage: week.byStage.sort((a, b) => b.items - a.items),
  }
}

function standingWeeks(
  { classes, demand }: FoodDemand,
  { from, weeks }: { from: PlainDate; weeks: number },
): Map<string, ClassWeek[]> {
  const sds = new Map(classes.map(({ id }) => [id, new Float64Array(weeks)]))
  const means = new Map(classes.map(({ id }) => [id, new Float64Array(weeks)]))
  for (const row of demand) {
    const week = Math.floor(daysBetween(from, row.on) / 7)
    const mean = means.get(row.class)
    const sd = sds.get(row.class)
    if (!mean || !sd || week < 0 || week >= weeks) continue
    mean[week]! += row.animals
    sd[week]! += row.sd ?? 0
  }
  return new Map(
    classes.map(({ id }) => [
      id,
      Array.from(means.get(id) ?? [], (animalDays, week) => ({
        animalDays,
        variance: (sds.get(id)?.[week] ?? 0) ** 2,
      })),
    ]),
  )
}

/** How far around its likeliest day a hatch is looked at, in standard deviations. */
const SIDES = 2.5

function hatchWeeks(
  hatch: FutureHatch,
  classes: readonly FoodClass[],
  { from, weeks }: { from: PlainDate; weeks: number },
) {
  const { count, cv = 0, chance = 1 } = hatch
  const byClass = new Map(classes.map(({ id }) => [id, new Float64Array(weeks)]))
  const firsts = new Map(classes.map(({ id, accepts }) => [id, accepts[0]]))
  const sums = new Map<string, { mean: Float64Array; square: Float64Array }>()
  for (const { day, weight } of hatchDays(hatch, from)) {
    const items = new Map<string, Float64Array>()
    for (const step of stepsOf(hatch)) {
      const first = firsts.get(step.class)
      const row = byClass.get(step.class)
      if (!row || !first) continue
      const own = items.get(first.line) ?? new Float64Array(weeks)
      items.set(first.line, own)
      const last = Math.min(weeks * 7, day + step.until)
      for (let at = Math.max(0, day + step.fromDay); at < last; at += 1) {
        const week = Math.floor(at / 7)
        row[week]! += weight * chance * count * step.animals
        own[week]! += step.animals * count * first.itemsPerAnimalDay
      }
    }
    for (const [line, own] of items) {
      const sum = sums.get(line) ?? { mean: new Float64Array(weeks), square: new Float64Array(weeks) }
      sums.set(line, sum)
      own.forEach((amount, week) => {
        sum.mean[week]! += weight * chance * amount
        sum.square[week]! += weight * chance * amount ** 2 * (1 + cv ** 2)
      })
    }
  }
  const varianceByLine = new Map(
    [...sums].map(([line, { mean, square }]) => [
      line,
      square.map((second, week) => Math.max(0, second - mean[week]! ** 2)),
    ]),
  )
  return { byClass, varianceByLine }
}

function hatchDays({ on, sdDays = 0 }: FutureHatch, from: PlainDate): { day: number; weight: number }[] {
  const expected = daysBetween(from, on)
  if (sdDays <= 0.2) return [{ day: Math.max(0, expected), weight: 1 }]
  const reach = Math.max(1, Math.round(SIDES * sdDays))
  const days = Array.from({ length: 2 * reach + 1 }, (_, index) => index - reach)
  const weights = days.map((off) => normalBelow((off + 0.5) / sdDays) - normalBelow((off - 0.5) / sdDays))
  const all = weights.reduce((sum, weight) => sum + weight, 0)
  // What has not hatched by now hatches from now on.
  return days.map((off, index) => ({ day: Math.max(0, expected + off), weight: weights[index]! / all }))
}

/** An entry holds until the next of its class, or, where no class comes twice, of any. See `FutureHatch`. */
function stepsOf({ needsByAgeDays }: FutureHatch) {
  const entries = [...needsByAgeDays].sort((a, b) => a.fromDay - b.fromDay)
  const isRepeating = new Set(entries.map((entry) => entry.class)).size < entries.length
  return entries.map((entry) => {
    const next = entries.find(
      (other) => other.fromDay > entry.fromDay && (!isRepeating || other.class === entry.class),
    )
    return { ...entry, until: next ? next.fromDay : Number.POSITIVE_INFINITY }
  })
}
