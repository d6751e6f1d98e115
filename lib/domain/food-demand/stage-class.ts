import type { FoodClass } from '../food-plan/case'
import type { Appetite } from './appetite'

/** Animals fed alike become one class of a food plan. */
export type StageClasses = {
  classes: FoodClass[]
  /** Class of an appetite, put there on first sight; null where nothing feeds it. */
  classOf(appetite: Appetite): string | null
}

/** Missing a meal falls hardest on the smallest, which have no reserves. */
const SHORTAGE_COSTS = [
  { belowMm: 7.5, cost: 300 },
  { belowMm: 16, cost: 220 },
  { belowMm: Number.POSITIVE_INFINITY, cost: 150 },
]
const ADULT_COST = 100

export function collectClasses(): StageClasses {
  const classes: FoodClass[] = []
  const byKey = new Map<string, string>()
  return {
    classes,
    classOf: (appetite) => {
      if (appetite.accepts.length === 0) return null
      const rounded = appetite.accepts.map((each) => ({
        line: each.line,
        itemsPerAnimalDay: Number(each.itemsPerAnimalDay.toPrecision(2)),
      }))
      const key = JSON.stringify([appetite.isAdult, bandOf(appetite), rounded])
      const known = byKey.get(key)
      if (known) return known
      const id = `${appetite.isAdult ? 'adults' : 'nymphs'}-${classes.length + 1}`
      classes.push({ id, name: nameOf(appetite), shortageCost: shortageCost(appetite), accepts: rounded })
      byKey.set(key, id)
      return id
    },
  }
}

function bandOf({ lengthMm }: Appetite): number {
  return SHORTAGE_COSTS.findIndex(({ belowMm }) => lengthMm < belowMm)
}

function shortageCost(appetite: Appetite): number {
  return appetite.isAdult ? ADULT_COST : SHORTAGE_COSTS[bandOf(appetite)]!.cost
}

function nameOf({ isAdult, lengthMm }: Appetite): string {
  return `${isAdult ? 'adults' : 'nymphs'} of about ${Math.round(lengthMm)} mm`
}
