import { daysBetween } from '../calendar/date'
import type { FoodCase, FoodLine } from './case'
import { CRASH_SHARE } from './case'
import type { Slot } from './slot'

const LARGEST_BATCH = 12

/**
 * Cultures or packs that a slot of each line is usually of: what its takers want as their first choice over the
 * weeks, shared by the days on which it can be started or ordered. May be a fraction. O(demand + hatches).
 */
export function usualCounts(foodCase: FoodCase, slots: readonly Slot[]): number[] {
  const animalDays = expectAnimalDays(foodCase)
  return foodCase.lines.map((line, index) => {
    const items = foodCase.classes.reduce((sum, { id, accepts }) => {
      const first = accepts[0]
      return first?.line === line.id ? sum + (animalDays.get(id) ?? 0) * first.itemsPerAnimalDay : sum
    }, 0)
    const chances = new Set(slots.flatMap(({ line, day }) => (line === index ? [day] : []))).size
    const each = expectedItems(line)
    return chances > 0 && each > 0 ? items / each / chances : 0
  })
}

/** Cultures that count as one start when yields are drawn. */
export function usualBatches(foodCase: FoodCase, slots: readonly Slot[]): number[] {
  return usualCounts(foodCase, slots).map((count) => Math.min(LARGEST_BATCH, Math.max(1, Math.round(count))))
}

function expectedItems(line: FoodLine): number {
  if (line.kind === 'bought') return line.packSize
  const { mean, crashChance } = line.yield
  return mean * (1 - (1 - CRASH_SHARE) * crashChance)
}

function expectAnimalDays({ from, weeks, demand, hatches = [] }: FoodCase): Map<string, number> {
  const days = weeks * 7
  const sums = new Map<string, number>()
  const add = (id: string, animalDays: number) => sums.set(id, (sums.get(id) ?? 0) + animalDays)
  for (const { class: id, on, animals } of demand) {
    const day = daysBetween(from, on)
    if (day >= 0 && day < days) add(id, animals)
  }
  for (const { on, count, chance = 1, needsByAgeDays } of hatches) {
    const left = days - Math.max(0, daysBetween(from, on))
    for (const [id, need] of needsOf(needsByAgeDays, left)) add(id, need * count * chance)
  }
  return sums
}

/** Animal-days per hatchling and class until it is so many days old. */
function needsOf(
  needs: readonly { class: string; fromDay: number; animals: number }[],
  days: number,
): Map<string, number> {
  const sums = new Map<string, number>()
  const sorted = [...needs].sort((a, b) => a.fromDay - b.fromDay)
  sorted.forEach((need, index) => {
    const next = sorted.slice(index + 1).find((other) => other.class === need.class)
    const until = Math.min(days, next?.fromDay ?? days)
    sums.set(need.class, (sums.get(need.class) ?? 0) + need.animals * Math.max(0, until - need.fromDay))
  })
  return sums
}
