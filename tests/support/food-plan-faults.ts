import { addDays, daysBetween, weekdayOf } from '@/lib/domain/calendar/date'
import type { FoodCase } from '@/lib/domain/food-plan/case'
import type { FoodPlan } from '@/lib/domain/food-plan/plan'

/** Knows nothing of how a plan is made: only what a person may hold against one. */
export function listPlanFaults(foodCase: FoodCase, plan: FoodPlan): string[] {
  return [
    ...plan.weeks.flatMap(({ week, starts }) => [
      ...starts.flatMap((start) => listStartFaults(foodCase, start, week)),
      ...overWeek(foodCase, week, starts),
    ]),
    ...plan.weeks.flatMap(({ purchases }) =>
      purchases.flatMap((purchase) => listOrderFaults(foodCase, purchase)),
    ),
    ...overShelf(foodCase, plan),
  ]
}

type Start = FoodPlan['weeks'][number]['starts'][number]
type Purchase = FoodPlan['weeks'][number]['purchases'][number]

function listStartFaults(
  { from, lines, limits }: FoodCase,
  { line, count, on }: Start,
  week: number,
): string[] {
  const faults = []
  if (lines.find(({ id }) => id === line)?.kind !== 'culture') faults.push(`${line} is no culture`)
  if (!Number.isInteger(count) || count < 1) faults.push(`${count} cultures`)
  if (Math.floor(daysBetween(from, on) / 7) + 1 !== week) faults.push(`${on} is not in week ${week}`)
  if (limits?.closedDays?.includes(on)) faults.push(`${on} is closed`)
  if (limits?.startWeekdays && !limits.startWeekdays.includes(weekdayOf(on)))
    faults.push(`no starts on ${on}`)
  return faults
}

function overWeek({ limits }: FoodCase, week: number, starts: readonly Start[]): string[] {
  const sum = starts.reduce((total, { count }) => total + count, 0)
  return sum > (limits?.startsPerWeek ?? Number.POSITIVE_INFINITY) ? [`${sum} starts in week ${week}`] : []
}

function listOrderFaults({ lines }: FoodCase, { line, packs, orderOn, arrivesOn }: Purchase): string[] {
  const bought = lines.find(({ id }) => id === line)
  if (bought?.kind !== 'bought') return [`${line} is not bought`]
  const faults = []
  if (!Number.isInteger(packs) || packs < 1) faults.push(`${packs} packs`)
  if (daysBetween(orderOn, arrivesOn) < bought.leadDays) faults.push(`${line} arrives before its lead time`)
  if (bought.orderWeekdays && !bought.orderWeekdays.includes(weekdayOf(orderOn)))
    faults.push(`${line} cannot be ordered on ${orderOn}`)
  return faults
}

/** On each day what stands, running or started, has a place; what ran before the plan is a fact. */
function overShelf(foodCase: FoodCase, plan: FoodPlan): string[] {
  const { from, weeks, lines, limits, cultures = [] } = foodCase
  const places = limits?.shelfPlaces
  if (places === undefined) return []
  const ageOf = (line: string, startedOn: string, on: string) => {
    const culture = lines.find(({ id }) => id === line)
    const age = daysBetween(startedOn, on)
    return culture?.kind === 'culture' && age >= 0 && age < culture.discardAfterDays
  }
  return Array.from({ length: weeks * 7 }, (_, day) => addDays(from, day)).flatMap((on) => {
    const sum = (rows: readonly { line: string; startedOn: string; count: number }[]) =>
      rows.reduce((total, { line, startedOn, count }) => total + (ageOf(line, startedOn, on) ? count : 0), 0)
    const running = sum(cultures.map(({ line, startedOn, count = 1 }) => ({ line, startedOn, count })))
    const started = sum(
      plan.weeks.flatMap(({ starts }) =>
        starts.map(({ line, count, on: startedOn }) => ({ line, startedOn, count })),
      ),
    )
    return started > 0 && running + started > places ? [`${running + started} jars on ${on}`] : []
  })
}
