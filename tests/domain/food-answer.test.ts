import { describe, expect, it } from 'vitest'
import { answerLater } from '@/lib/domain/food-plan/answer'
import type { FoodCase } from '@/lib/domain/food-plan/case'
import { foretell } from '@/lib/domain/food-plan/foretell'
import { playScenario } from '@/lib/domain/food-plan/play'
import { layOutRoom, shareOf } from '@/lib/domain/food-plan/room'
import { seededStream } from '@/lib/domain/random/seeded'
import { drawFoodCase } from '../support/food-cases'

const stream = seededStream('seen')
const row = (count: number) => Float64Array.from({ length: count }, () => stream.normal(5, 2))

describe('what is foretold', () => {
  it('is what follows from what has been seen, less a little for few scenarios', () => {
    const [a, b] = [row(400), row(400)]
    const values = a.map((each, scenario) => 3 * each - 2 * b[scenario]! + 1)
    const told = foretell(values, [a, b, a.map(() => 7)])
    told.forEach((each, scenario) => {
      expect(Math.abs(each - values[scenario]!)).toBeLessThan(3)
    })
    const wrong = (guess: (scenario: number) => number) =>
      values.reduce((sum, each, scenario) => sum + (each - guess(scenario)) ** 2, 0)
    expect(wrong((scenario) => told[scenario]!)).toBeLessThan(0.01 * wrong(() => told[0]!))
  })

  it('is the mean where nothing seen differs', () => {
    const values = row(50)
    const mean = values.reduce((sum, each) => sum + each, 0) / 50
    for (const each of foretell(values, [values.map(() => 1)])) expect(each).toBeCloseTo(mean, 9)
  })
})

describe('the rules of later days', () => {
  const foodCase = drawFoodCase('rules', { weeks: 5, lines: 3 })
  const room = layOutRoom(foodCase, { scenarios: 24, seed: 'x', answersFrom: 1 })

  it('share each decision out over their parts, in every scenario', () => {
    const sums = new Map<string, Float64Array>()
    for (const { line, day, week, part } of room.slots) {
      expect(part === null).toBe(week < 1)
      if (part === null) continue
      const sum = sums.get(`${line}/${day}`) ?? new Float64Array(24)
      sums.set(`${line}/${day}`, sum)
      room.parts[part]!.forEach((each, scenario) => {
        expect(each).toBeGreaterThanOrEqual(0)
        sum[scenario]! += each
      })
    }
    for (const sum of sums.values()) for (const each of sum) expect(each).toBeCloseTo(1, 9)
    const firstDay = room.slots.flatMap(({ line, day }, slot) => (line === 0 && day === 7 ? [slot] : []))
    expect(firstDay.reduce((sum, slot) => sum + shareOf(room, slot), 0)).toBeCloseTo(1, 9)
  })

  it('know nothing of what comes after their morning', () => {
    const base = layOutRoom(foodCase, { scenarios: 24, seed: 'x' })
    const [one, other, ...rest] = base.scenarios
    // Two scenarios alike until the day of the decision are answered alike, however they end.
    const day = 14
    const alike = {
      ...other!,
      need: other!.need.map((days, index) =>
        days.map((each, at) => (at < day ? one!.need[index]![at]! : each)),
      ),
      supply: other!.supply.map((days, index) =>
        days.map((each, at) => (at < day ? one!.supply[index]![at]! : each)),
      ),
    }
    const { slots, parts } = answerLater({ ...base, scenarios: [one!, alike, ...rest] }, 1)
    const decided = slots.filter((slot) => slot.day === day && slot.part !== null)
    expect(decided.length).toBeGreaterThan(3)
    for (const { part } of decided) expect(parts[part!]![0]).toBeCloseTo(parts[part!]![1]!, 9)
  })
})

describe('food that is not a first choice', () => {
  it('costs what the first choice in its place would cost if it were thrown away', () => {
    const line = (id: string, wasteCost: number) => ({
      id,
      kind: 'bought' as const,
      packSize: 10,
      packCost: 5,
      leadDays: 1,
      keepDays: 30,
      wasteCost,
    })
    const from = '2027-01-04'
    const foodCase: FoodCase = {
      from,
      weeks: 1,
      lines: [line('best', 2), line('other', 0)],
      classes: [
        {
          id: 'small',
          shortageCost: 50,
          accepts: [
            { line: 'best', itemsPerAnimalDay: 3 },
            { line: 'other', itemsPerAnimalDay: 1 },
          ],
        },
      ],
      demand: [{ class: 'small', on: from, animals: 4 }],
    }
    const costWith = (stock: FoodCase['stock']) => {
      const room = layOutRoom({ ...foodCase, stock }, { scenarios: 1, seed: 'x' })
      return playScenario(
        room,
        0,
        room.slots.map(() => 0),
      ).cost
    }
    expect(costWith([{ line: 'best', count: 12 }])).toBe(0)
    expect(costWith([{ line: 'other', count: 4 }])).toBe(4 * 3 * 2)
    expect(costWith([])).toBe(4 * 50)
  })
})
