import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { isAllowed } from '@/lib/domain/role/permissions'
import { listEggCases } from '@/lib/features/egg-case/data'
import {
  countSincePlan,
  type KeptPlan,
  loadFoodPlans,
  type PlanQuestion,
  type SincePlan,
} from '@/lib/features/food-plan/data'
import { loadPage } from '@/lib/platform/page'

/** What a person waits for a food plan. */
export const FOOD_PLAN_LIMIT_MS = 10_000

export type PlanLine = { line: string; name: string; count: number; on: PlainDate }
export type PlanWeekOnPage = {
  from: PlainDate
  starts: PlanLine[]
  purchases: PlanLine[]
  discards: PlanLine[]
  reasons: string[]
  surplus: string[]
  shortages: { words: string; isBad: boolean }[]
}
export type PlanSums = {
  starts: number
  packs: number
  missed: number
  surplus: number
  cost: number
}
export type FoodPlanPage = {
  today: PlainDate
  mayWrite: boolean
  maySeeCosts: boolean
  currency: string
  inForce:
    | (PlanSums & {
        made: string
        /** What was written down after it was made; empty where nothing was. */
        since: string
        proof: string
        weeks: PlanWeekOnPage[]
        notes: string[]
      })
    | null
  trial: (PlanSums & { words: string }) | null
  pending: { progress: number; isTrial: boolean } | null
  failure: string | null
  hatches: { value: string; label: string }[]
}

/** The plan in force with its reasons, beside it the newest trial, and what is being worked out. */
export async function loadFoodPlanPage(slug: string): Promise<FoodPlanPage> {
  return loadPage({ slug, permission: 'live-food:read' }, async ({ tx, scope, workspace }) => {
    const { today, workspaceId, currency } = workspace
    const { inForce, trial, pending, failed } = await loadFoodPlans(tx, workspace)
    const since = inForce ? await countSincePlan(tx, workspaceId, inForce.id) : null
    const eggCases = await listEggCases(tx, workspaceId, { isEnded: false, limit: 200 })
    const waiting = eggCases.filter(({ hatches }) => hatches.length === 0)
    return {
      today,
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      maySeeCosts: isAllowed(scope.role, 'cost:read'),
      currency,
      inForce: inForce?.answer
        ? {
            ...sumPlan(inForce.answer),
            made: `${writeDay(inForce.madeOn, today)} at ${inForce.madeAt}`,
            since: since ? saySince(since) : '',
            proof: sayProof(inForce.answer),
            weeks: inForce.answer.weeks.map((week) => describeWeek(week, inForce.answer?.names)),
            notes: inForce.answer.notes,
          }
        : null,
      trial: trial?.answer ? { ...sumPlan(trial.answer), words: sayQuestion(trial.question) } : null,
      pending: pending && { progress: pending.progress, isTrial: pending.isTrial },
      failure: failed?.failure ?? null,
      hatches: waiting.flatMap(({ label }) => [
        { value: `less:${label}`, label: `${label} does not hatch` },
        { value: `more:${label}`, label: `One more like ${label}` },
      ]),
    }
  })
}

function sumPlan({ weeks, cost }: KeptPlan): PlanSums {
  const sum = <T>(list: readonly T[], of: (each: T) => number) =>
    list.reduce((all, each) => all + of(each), 0)
  return {
    starts: sum(weeks, ({ starts }) => sum(starts, ({ count }) => count)),
    packs: sum(weeks, ({ purchases }) => sum(purchases, ({ packs }) => packs)),
    missed: sum(weeks, ({ expectedShortage }) => sum(expectedShortage, ({ animalDays }) => animalDays)),
    surplus: sum(weeks, ({ expectedSurplus }) => sum(expectedSurplus, ({ count }) => count)),
    cost,
  }
}

function saySince(since: SincePlan): string {
  const said = (count: number, one: string, what: string) =>
    count === 0 ? [] : [`${writeCount(count, one)} ${what}`]
  return [
    ...said(since.started, 'jar', 'started'),
    ...said(since.harvested, 'harvest', 'taken'),
    ...said(since.ordered, 'pack', 'ordered'),
    ...said(since.counted, 'count', 'of stock'),
    ...said(since.hatched, 'nymph', 'hatched'),
    ...said(since.dead, 'animal', 'died'),
    ...said(since.sold, 'animal', 'sold or given away'),
    ...said(since.figures, 'figure', 'of a line changed'),
  ].join(', ')
}

function sayProof({ status, gap }: KeptPlan): string {
  if (status === 'timed-out') return 'the best found in its time'
  if (gap === null) return 'the best found; how much better one could be is not proven'
  const percent = Math.round(gap * 1000) / 10
  return gap <= 0.01
    ? `no plan could be cheaper by more than ${percent} %`
    : `the best found; one that knew the future could be up to ${percent} % cheaper`
}

function sayQuestion({ shelfPlaces, serviceLevel, hatch }: PlanQuestion): string {
  const parts = [
    shelfPlaces === undefined ? '' : `${shelfPlaces} places on the shelf`,
    serviceLevel === undefined ? '' : `${Math.round(serviceLevel * 1000) / 10} % sure`,
    hatch ? (hatch.times === 0 ? `without ${hatch.id}` : `with one more like ${hatch.id}`) : '',
  ]
  return parts.filter(Boolean).join(', ')
}

function describeWeek(week: KeptPlan['weeks'][number], names: KeptPlan['names'] | undefined): PlanWeekOnPage {
  const nameOf = (line: string) => names?.lines[line] ?? line
  return {
    from: week.from,
    starts: week.starts.map(({ line, count, on }) => ({ line, name: nameOf(line), count, on })),
    purchases: week.purchases.map(({ line, packs, orderOn }) => ({
      line,
      name: nameOf(line),
      count: packs,
      on: orderOn,
    })),
    discards: week.discards.map(({ line, count, on }) => ({ line, name: nameOf(line), count, on })),
    reasons: week.reasons,
    surplus: week.expectedSurplus.map(({ line, count }) => `${Math.round(count)} ${nameOf(line)}`),
    shortages: week.expectedShortage
      .toSorted((a, b) => b.animalDays - a.animalDays)
      .map(({ class: id, animalDays, chanceMet }) => ({
        words: `${names?.classes[id] ?? id}: about ${Math.round(animalDays * 10) / 10} animal-days without food, ${Math.round(chanceMet * 100)} % sure that nobody goes short`,
        isBad: chanceMet < 0.9,
      })),
  }
}
