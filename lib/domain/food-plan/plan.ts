import type { LinearProgram, ProgramAnswer } from '../program/linear'
import type { FoodCase } from './case'
import { listCaseNotes } from './case-check'
import { descend } from './descent'
import { listJarNotes } from './jar-note'
import { type FoodPlanWeek, presentWeeks } from './plan-week'
import { WHOLE_DAYS } from './program'
import { proveGap } from './proof'
import { feedingOrder, layOutRoom, type PlanRoom } from './room'
import { settleWhole } from './settle'
import { openCosts } from './slope'
import type { Slot } from './slot'
import { listShortfalls, listWaysOut, sayShortfall } from './way-out'

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
  const mayGoOn = options.mayGoOn ?? (() => true)
  const { room, counts } = decide(foodCase, options)
  const isCut = !mayGoOn()
  const gap = isCut ? null : yield* proveGap(room, counts)
  const weeks = presentWeeks(room, counts)
  const isProven = gap !== null && gap <= OPTIMAL_GAP
  return {
    status: isProven ? 'optimal' : isCut ? 'timed-out' : 'feasible',
    gap,
    cost: openCosts({ ...room, fed: feedingOrder(foodCase, 1) })(counts),
    weeks,
    notes: [
      ...listCaseNotes(foodCase),
      ...listJarNotes(foodCase),
      ...listWayOutNotes(room, { counts, weeks, mayGoOn }),
    ],
  }
}

/** What cannot be fed, with the cheapest way out: the same starts and orders are played on each changed case. */
function listWayOutNotes(
  room: PlanRoom,
  plan: { counts: readonly number[]; weeks: readonly FoodPlanWeek[]; mayGoOn: () => boolean },
): string[] {
  const costOn = (foodCase: FoodCase) => {
    const other = layOutPlanRoom(foodCase, OTHER)
    return openCosts(other)(carryOver(room, plan.counts, other))
  }
  const shortfalls = listShortfalls(room.foodCase, plan.weeks)
  if (shortfalls.length === 0 || !plan.mayGoOn()) return []
  const now = costOn(room.foodCase)
  return shortfalls.map((shortfall) => {
    const savedBy = (changed: FoodCase) => (plan.mayGoOn() ? now - costOn(changed) : 0)
    return sayShortfall(shortfall, listWaysOut(room.foodCase, shortfall, savedBy))
  })
}

/** Scenarios that the plan was not fitted to. */
const OTHER = { scenarios: 32, seed: 'other' }
const OPTIMAL_GAP = 0.01

/** From here on the plan counts on answering to what will have been seen. */
const ANSWERS_FROM_WEEK = 1
/**
 * A plan of today fixes what weeks to come will in truth still answer to, so that at the full price of a missed meal
 * it insures twice; chosen on seasons that are not judged.
 */
const SHORTAGE_WEIGHT = 0.5
const STEPS = 100
/** As many of these as fit: days times lines of all of them. */
const SCENARIOS = [128, 64, 32, 16]
const LARGEST_ROOM = 100_000
/** Of them so many are played in one step of the walk. */
const STEP_SCENARIOS = 16

function scenariosFor({ weeks, lines }: FoodCase): number {
  return SCENARIOS.find((count) => weeks * 7 * lines.length * count <= LARGEST_ROOM) ?? SCENARIOS.at(-1)!
}

export function layOutPlanRoom(foodCase: FoodCase, options: FoodPlanOptions = {}): PlanRoom {
  return layOutRoom(foodCase, {
    scenarios: options.scenarios ?? scenariosFor(foodCase),
    seed: options.seed ?? foodCase.from,
    answersFrom: ANSWERS_FROM_WEEK,
    shortageWeight: SHORTAGE_WEIGHT,
  })
}

/**
 * What starts now feeds the weeks up to here. The next days are decided with these in view alone: what lies beyond is
 * too far to be answered by them, and only blurs them (measured on seasons that are not judged).
 */
const NEAR_WEEKS = 7

export type Decided = { room: PlanRoom; counts: number[] }

/** Counts by slot: whole and decided first for the week to come, then the rest around them. */
export function decide(foodCase: FoodCase, options: FoodPlanOptions = {}): Decided {
  const near = decideNear(foodCase, options)
  if (foodCase.weeks <= NEAR_WEEKS) return near
  const room = holdSoon(layOutPlanRoom(foodCase, options), near)
  return { room, counts: walk(room, options) }
}

/** The decisions of the next weeks alone. */
export function decideNear(foodCase: FoodCase, options: FoodPlanOptions = {}): Decided {
  const room = layOutPlanRoom({ ...foodCase, weeks: Math.min(foodCase.weeks, NEAR_WEEKS) }, options)
  const { mayGoOn = () => true } = options
  return { room, counts: settleWhole(room, walk(room, options), { wholeDays: WHOLE_DAYS, mayGoOn }).counts }
}

function walk(room: PlanRoom, { steps = STEPS, mayGoOn }: FoodPlanOptions): number[] {
  const sets = Math.max(1, Math.round(room.scenarios.length / STEP_SCENARIOS))
  return descend(room, { steps, sets, mayGoOn })
}

/** The room with the slots of its first week at what has been decided. */
function holdSoon(room: PlanRoom, { room: near, counts }: Decided): PlanRoom {
  const decided = carryOver(near, counts, room)
  const isHeld = (slot: number) => room.slots[slot]!.part === null
  return {
    ...room,
    most: room.most.map((most, slot) => (isHeld(slot) ? decided[slot]! : most)),
    least: room.least.map((least, slot) => (isHeld(slot) ? decided[slot]! : least)),
  }
}

/** Counts of one room for the same days, lines and parts of rules in another; nothing where it has others. */
function carryOver({ slots }: PlanRoom, counts: readonly number[], to: PlanRoom): number[] {
  const known = new Map(keysOf(slots).map((key, slot) => [key, counts[slot]!]))
  return keysOf(to.slots).map((key) => known.get(key) ?? 0)
}

function keysOf(slots: readonly Slot[]): string[] {
  const seen = new Map<string, number>()
  return slots.map(({ line, day }) => {
    const key = `${line}/${day}`
    const place = seen.get(key) ?? 0
    seen.set(key, place + 1)
    return `${key}/${place}`
  })
}
