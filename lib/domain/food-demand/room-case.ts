import { addDays, maxDate, type PlainDate } from '../calendar/date'
import type { JarLaw } from '../culture/jar-law'
import type { LearnedLine } from '../culture/learning'
import type { Suspicion } from '../culture/mites'
import type { JarRecord } from '../culture/shelf'
import { uncountedSince } from '../culture/uncounted'
import type {
  CaseCulture,
  Delivery,
  FoodCase,
  FoodLimits,
  FoodLine,
  FutureHatch,
  StockRow,
} from '../food-plan/case'
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
  roomOf: (line: string) => { zoneId: string | null; temperatureC: number; learned: LearnedLine | undefined }
  jars: readonly JarRecord[]
  /** What each of them is expected to do, by its id. */
  laws: ReadonlyMap<string, JarLaw>
  /** When flies of a line were last counted; null where flies in jars are left out, as for a plan that begins later. */
  countedOn: ReadonlyMap<string, PlainDate> | null
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
  const caseLines = lines.map((line) => caseLine(line, ground.roomOf(line.id)))
  return {
    from: today,
    weeks,
    serviceLevel: wish.serviceLevel ?? ground.serviceLevel,
    lines: caseLines,
    classes: demand.classes,
    demand: demand.demand,
    stock: stockRows(ground),
    cultures: standingCultures(ground, caseLines),
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

function standingCultures(ground: RoomCaseGround, caseLines: readonly FoodLine[]): CaseCulture[] {
  const { jars, suspicions, countedOn, today } = ground
  const usual = new Map(caseLines.map((line) => [line.id, line]))
  return jars
    .filter(({ line, endedOn }) => usual.has(line) && (endedOn === null || endedOn > today))
    .map((jar) => {
      const { id, label, line, startedOn, harvests, crashedOn, endedOn } = jar
      const harvested = harvests.map(({ on, count }) => ({ on, count }))
      const since = countedOn && uncountedSince({ startedOn, harvested }, countedOn.get(line) ?? null)
      return {
        id: label,
        line,
        startedOn,
        harvested,
        ...(crashedOn ? { hasCrashed: true } : {}),
        ...(suspicions.has(id) ? { isSuspect: true } : {}),
        ...(endedOn ? { until: endedOn } : {}),
        ...(since && since < today ? { uncountedSince: since } : {}),
        ...ownWayOf(jar, ground, usual.get(line)),
      }
    })
}

/** In what a jar differs from those that the plan takes for usual: where it stood, and how full it was made. */
function ownWayOf(
  jar: JarRecord,
  { laws, roomOf }: RoomCaseGround,
  usual: FoodLine | undefined,
): Pick<CaseCulture, 'curve' | 'yieldShare' | 'discardAfterDays'> {
  const own = laws.get(jar.id)
  if (!own || usual?.kind !== 'culture') return {}
  const isElsewhere = jar.zoneId !== roomOf(jar.line).zoneId || (jar.moves ?? []).length > 0
  const yieldShare = own.law.mean / Math.max(1e-9, usual.yield.mean)
  return {
    ...(isElsewhere ? { curve: own.law.curve } : {}),
    ...(usual.yield.mean > 0 && Math.abs(yieldShare - 1) > SAME_YIELD ? { yieldShare } : {}),
    ...(own.discardAfterDays === usual.discardAfterDays ? {} : { discardAfterDays: own.discardAfterDays }),
  }
}

/** Closer than this to what is usual is as good as usual. */
const SAME_YIELD = 0.01

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
