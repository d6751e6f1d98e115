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
      const key = classKeyOf(appetite)
      const known = byKey.get(key)
      if (known) return known
      const id = `${appetite.isAdult ? 'adults' : 'nymphs'}-${classes.length + 1}`
      classes.push({
        ...{ id, name: nameOf(appetite) },
        ...{ shortageCost: shortageCost(appetite), accepts: acceptedBy(appetite) },
      })
      byKey.set(key, id)
      return id
    },
  }
}

function acceptedBy({ accepts }: Appetite): FoodClass['accepts'] {
  return accepts.map(({ line, itemsPerAnimalDay }) => ({
    line,
    itemsPerAnimalDay: Number(itemsPerAnimalDay.toPrecision(2)),
  }))
}

/** What animals of one class have in common: how much a missed meal counts, and what they eat. */
export function classKeyOf(appetite: Appetite): string {
  return keyOfClass({ shortageCost: shortageCost(appetite), accepts: acceptedBy(appetite) })
}

export function keyOfClass({
  shortageCost: cost,
  accepts,
}: Pick<FoodClass, 'shortageCost' | 'accepts'>): string {
  return JSON.stringify([cost, accepts.map(({ line, itemsPerAnimalDay }) => [line, itemsPerAnimalDay])])
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
