import type { LinearProgram, ProgramAnswer } from '../program/linear'
import type { FoodCase } from './case'
import { listCaseNotes } from './case-check'
import { descend } from './descent'
import { type FoodPlanWeek, presentWeeks } from './plan-week'
import { WHOLE_DAYS } from './program'
import { proveGap } from './proof'
import { feedingOrder, layOutRoom, type PlanRoom } from './room'
import { settleWhole } from './settle'
import { openCosts } from './slope'

/** Where a thread finds `planFood`. */
export const FOOD_PLAN = { file: 'lib/domain/food-plan/plan.ts', name: 'planFood' } as const

/** What to start and buy, week by week. Money in minor units. */
export type FoodPlan = {
  /** 'optimal' within a hundredth, 'feasible' further from what is proven, 'timed-out' when it was cut short. */
  status: 'optimal' | 'feasible' | 'timed-out'
  /** Share of the cost by which a better plan could be cheaper at most; null where nothing is proven. */
  gap: number | null
  /** Mean over the scenarios: starts, packs, starters bought, waste and missed meals. */
  cost: number
  weeks: FoodPlanWeek[]
  /** What the plan cannot do and why, as sentences. */
  notes: string[]
}

export type FoodPlanOptions = {
  /** By size unless said. */
  scenarios?: number
  seed?: string
  /** Steps of the walk downhill; by size unless said. */
  steps?: number
  /** False as soon as the time is up: the best so far is the answer then. */
  mayGoOn?: () => boolean
}

/**
 * The plan of a case that has been checked with `checkFoodCase`. Programs are yielded for a solver and their answers
 * taken back, see `solveSteps`; a caller without one may answer 'timed-out' and gets the plan without its proof.
 */
export function* planFood(
  foodCase: FoodCase,
  options: FoodPlanOptions = {},
): Generator<LinearProgram, FoodPlan, ProgramAnswer> {
  const room = layOutPlanRoom(foodCase, options)
  const mayGoOn = options.mayGoOn ?? (() => true)
  const { counts } = decide(room, { steps: options.steps, mayGoOn })
  const gap = mayGoOn() ? yield* proveGap(layOutPlanRoom(foodCase, PROOF), counts) : null
  const isProven = gap !== null && gap <= OPTIMAL_GAP
  return {
    status: isProven ? 'optimal' : mayGoOn() ? 'feasible' : 'timed-out',
    gap,
    cost: openCosts({ ...room, fed: feedingOrder(foodCase, 1) })(counts),
    weeks: presentWeeks(room, counts),
    notes: listCaseNotes(foodCase),
  }
}

/** Scenarios of its own: fewer, and none that the plan was fitted to. */
const PROOF = { scenarios: 8, seed: 'proof' }
const OPTIMAL_GAP = 0.01

/** Later weeks part twice, so that the plan of this one counts on answering to what will be seen. */
const STAGES = [
  { fromWeek: 1, parts: 2 },
  { fromWeek: 3, parts: 2 },
]
/**
 * A plan of today fixes what weeks to come will in truth still answer to, so that at the full price of a missed meal
 * it insures twice; chosen on seasons that are not judged.
 */
const SHORTAGE_WEIGHT = 0.5
/** Scenarios that one step of the walk looks at. */
const STEP_SCENARIOS = 16
const SMALL = { scenarios: 96, steps: 150 }
const LARGE = { scenarios: 16, steps: 150 }
/** Scenario-days times lines that a step may take and still be called small. */
const SMALL_STEP = 40_000

function isSmall({ weeks, lines }: FoodCase): boolean {
  return weeks * 7 * lines.length * SMALL.scenarios <= SMALL_STEP
}

export function layOutPlanRoom(foodCase: FoodCase, options: FoodPlanOptions = {}): PlanRoom {
  const { scenarios } = isSmall(foodCase) ? SMALL : LARGE
  return layOutRoom(foodCase, {
    scenarios: options.scenarios ?? scenarios,
    seed: options.seed ?? foodCase.from,
    stages: STAGES,
    shortageWeight: SHORTAGE_WEIGHT,
  })
}

/** Counts by slot: whole for the next two weeks. */
export function decide(room: PlanRoom, { steps, mayGoOn }: { steps?: number; mayGoOn: () => boolean }) {
  const usual = isSmall(room.foodCase) ? SMALL.steps : LARGE.steps
  const walked = descend(room, { steps: steps ?? usual, batch: STEP_SCENARIOS, mayGoOn })
  return settleWhole(room, walked, { wholeDays: WHOLE_DAYS, mayGoOn })
}
