import { addDays, maxDate, type PlainDate } from '../calendar/date'
import type { LearnedLine } from '../culture/learning'
import type { Suspicion } from '../culture/mites'
import type { JarRecord } from '../culture/shelf'
import type { CaseCulture, Delivery, FoodCase, FoodLimits, FutureHatch, StockRow } from '../food-plan/case'
import type { PreyLine } from '../prey/line'
import { caseLine } from './case-lines'
import type { FoodDemand } from './demand'

/** What somebody asks to be tried beside the room as it is. */
export type PlanWish = {
  shelfPlaces?: number | null
  serviceLevel?: number
  /** One hatch of the egg case less, or one more like it. */
  hatch?: { id: string; times: 0 | 2 }
}

export type RoomCaseGround = {
  today: PlainDate
  weeks: number
  demand: FoodDemand
  lines: readonly PreyLine[]
  roomOf: (line: string) => { temperatureC: number; learned: LearnedLine | undefined }
  jars: readonly JarRecord[]
  suspicions: ReadonlyMap<string, Suspicion>
  stock: ReadonlyMap<string, number>
  orders: readonly { line: string; on: PlainDate; hasArrived: boolean; count: number }[]
  limits: FoodLimits
  serviceLevel: number
}

/** A workspace's records as a case of the food plan; starts that were made are facts in it. */
export function roomCase(ground: RoomCaseGround, wish: PlanWish = {}): FoodCase {
  const { today, weeks, demand, lines, limits } = ground
  const shelfPlaces = wish.shelfPlaces === undefined ? limits.shelfPlaces : (wish.shelfPlaces ?? undefined)
  const { shelfPlaces: _, ...otherLimits } = limits
  return {
    from: today,
    weeks,
    serviceLevel: wish.serviceLevel ?? ground.serviceLevel,
    lines: lines.map((line) => caseLine(line, ground.roomOf(line.id))),
    classes: demand.classes,
    demand: demand.demand,
    stock: stockRows(ground),
    cultures: standingCultures(ground),
    deliveries: listDeliveries(ground),
    hatches: wishedHatches(demand.hatches, wish),
    limits: { ...otherLimits, ...(shelfPlaces === undefined ? {} : { shelfPlaces }) },
  }
}

function wishedHatches(hatches: readonly FutureHatch[], { hatch: wish }: PlanWish): FutureHatch[] {
  return hatches.flatMap((hatch) => {
    if (hatch.id !== wish?.id) return [hatch]
    return wish.times === 0 ? [] : [hatch, { ...hatch, id: `another like ${hatch.id}` }]
  })
}

function stockRows({ stock, lines }: RoomCaseGround): StockRow[] {
  return lines.flatMap(({ id }) => {
    const count = Math.round(stock.get(id) ?? 0)
    return count > 0 ? [{ line: id, count }] : []
  })
}

function standingCultures({ jars, lines, suspicions, today }: RoomCaseGround): CaseCulture[] {
  const kept = new Set(lines.map(({ id }) => id))
  return jars
    .filter(({ line, endedOn }) => kept.has(line) && (endedOn === null || endedOn > today))
    .map(({ id, label, line, startedOn, harvests, crashedOn, endedOn }) => ({
      id: label,
      line,
      startedOn,
      harvested: harvests.map(({ on, count }) => ({ on, count })),
      ...(crashedOn ? { hasCrashed: true } : {}),
      ...(suspicions.has(id) ? { isSuspect: true } : {}),
      ...(endedOn ? { until: endedOn } : {}),
    }))
}

/** How long bought pupae take to be flies, at most. */
const PUPAE_DAYS = 21

/** What is on its way, and pupae that came lately and are no flies yet. */
function listDeliveries({ orders, lines, today }: RoomCaseGround): Delivery[] {
  return orders.flatMap(({ line: id, on, hasArrived, count }) => {
    const line = lines.find((each) => each.id === id)
    if (!line || line.supply.kind === 'culture') return []
    if (!hasArrived) return [{ line: id, on: maxDate(on, today), count }]
    const isPupae = line.supply.kind === 'pupae' && on > addDays(today, -PUPAE_DAYS)
    return isPupae ? [{ line: id, on, count }] : []
  })
}
