import { addDays } from '@/lib/domain/calendar/date'
import { emergenceCurve } from '@/lib/domain/culture/emergence'
import type { DemandRow, FoodCase, FoodClass, FoodLine, FutureHatch } from '@/lib/domain/food-plan/case'
import { findPreyLine } from '@/lib/domain/prey/default-lines'
import { seededStream } from '@/lib/domain/random/seeded'

/** Cases of any size drawn from a seed: half of the lines are cultures, the others are bought. */
const FROM = '2027-01-04'

function curveOf(id: string): number[] {
  const supply = findPreyLine(id)!.supply
  if (supply.kind !== 'culture') throw new Error(`${id} is no culture`)
  return emergenceCurve(supply.curve.value, { temperatureC: 24.5, days: 60 }).map(
    (share) => Math.round(share * 1e4) / 1e4,
  )
}

function drawLines(count: number): FoodLine[] {
  const curves = [curveOf('melanogaster'), curveOf('hydei'), curveOf('house-fly-culture')]
  return Array.from({ length: count }, (_, index): FoodLine => {
    if (index % 2 === 1)
      return {
        id: `bought-${index}`,
        kind: 'bought',
        packSize: [100, 250, 50, 200][(index >> 1) % 4]!,
        packCost: 350 + 20 * index,
        leadDays: 3,
        keepDays: [10, 7, 14, 6][(index >> 1) % 4]!,
        dailyDeathRate: 0.03,
      }
    return {
      id: `culture-${index}`,
      kind: 'culture',
      yield: { mean: [400, 250, 350][(index >> 1) % 3]!, cv: 0.35, crashChance: 0.05 },
      curve: curves[(index >> 1) % 3]!,
      starters: 40,
      startCost: 100,
      dailyDeathRate: 0.1,
      starterCost: 300,
      discardAfterDays: [35, 45, 35][(index >> 1) % 3]!,
      minimumBatches: 2,
    }
  })
}

export function drawFoodCase(seed: string, size: { weeks: number; lines: number }): FoodCase {
  const stream = seededStream(seed)
  const lines = drawLines(size.lines)
  const classes = lines.map(
    (line, index): FoodClass => ({
      id: `class-${index}`,
      shortageCost: 250 - 15 * index,
      accepts: [
        { line: line.id, itemsPerAnimalDay: 1 + (index % 3) },
        ...(index > 0 ? [{ line: lines[index - 1]!.id, itemsPerAnimalDay: 3 + (index % 2) }] : []),
      ],
    }),
  )
  const days = size.weeks * 7
  const demand = classes.flatMap(({ id }): DemandRow[] => {
    const level = 20 + 60 * stream.uniform()
    return Array.from({ length: days }, (_, day) => {
      const animals = level * (1 + 0.4 * Math.sin((day / days) * 6 + level))
      return { class: id, on: addDays(FROM, day), animals, sd: 0.1 * animals }
    })
  })
  const hatches = Array.from({ length: size.weeks }, (_, index): FutureHatch => {
    const needs = classes.slice(0, 4)
    return {
      id: `E-${index + 1}`,
      on: addDays(FROM, stream.integer(0, days - 1)),
      sdDays: 4,
      count: 50,
      cv: 0.4,
      chance: 0.85,
      needsByAgeDays: needs.map((each, age) => ({
        class: each.id,
        fromDay: age * 14,
        animals: 0.9 - 0.15 * age,
      })),
    }
  })
  return {
    from: FROM,
    weeks: size.weeks,
    lines,
    classes,
    demand,
    hatches,
    stock: lines.map(({ id }) => ({ line: id, count: 300 })),
    cultures: lines.flatMap((line) =>
      line.kind === 'culture'
        ? [35, 28, 21, 14, 7].map((ago) => ({ line: line.id, startedOn: addDays(FROM, -ago), count: 3 }))
        : [],
    ),
    limits: { shelfPlaces: 30 * size.lines, startsPerWeek: 10 * size.lines },
  }
}
