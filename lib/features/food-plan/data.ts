import { addDays, daysBetween, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { developmentRate } from '@/lib/domain/culture/emergence'
import { discardAgeOfJar, type PlacedJar } from '@/lib/domain/culture/jar-law'
import { mainRoomOf, USUAL_C } from '@/lib/domain/culture/room-shelf'
import type { DayTask } from '@/lib/domain/day-sheet/task'
import { FOOD_DEMAND, foodDemandSteps } from '@/lib/domain/food-demand/demand'
import { type PlanWish, roomCase } from '@/lib/domain/food-demand/room-case'
import type { FoodCase } from '@/lib/domain/food-plan/case'
import { foodTasks } from '@/lib/domain/food-plan/open-task'
import type { FoodPlan } from '@/lib/domain/food-plan/plan'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import type { PreyLine } from '@/lib/domain/prey/line'
import { type CultureRow, listRecentCultures, workOutJars } from '@/lib/features/culture/data'
import { type DemandGround, loadDemandGround } from '@/lib/features/food-demand/data'
import { lastCountByLine, stockByLine } from '@/lib/features/food-room/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField, refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { workOut } from '@/lib/platform/solver'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** What differs from the room as it is, and from which day for how many weeks. */
export type PlanQuestion = PlanWish & {
  from?: PlainDate
  weeks: number
  startWeekdays?: number[]
}

export type FoodPlanGround = {
  demand: DemandGround
  jars: CultureRow[]
  today: PlainDate
  from: PlainDate
  question: PlanQuestion
}

/** What was read, and how to make the case of it afterwards without asking the database again. */
export type ReadFoodPlanGround = FoodPlanGround & { makeCase: () => Promise<FoodCase> }

const AHEAD_DAYS = 28

/** Everything the plan of a workspace's own records is made from. @throws AppError invalid for a far day */
export async function loadFoodPlanGround(
  tx: Tx,
  workspace: Workspace,
  question: PlanQuestion,
): Promise<ReadFoodPlanGround> {
  const { today } = workspace
  const { from = today, weeks } = question
  if (from < today) throw refuseField('from', 'This day has passed; plans begin today or later.')
  if (from > addDays(today, AHEAD_DAYS)) throw refuseField('from', 'is more than four weeks ahead')
  const demand = await loadDemandGround(tx, workspace, { from, weeks })
  const jars = await listRecentCultures(tx, workspace)
  const ground = { demand, jars, today, from, question }
  return { ...ground, makeCase: () => makeCaseOf(ground) }
}

/** The records as a case: all the arithmetic before the plan itself, in pieces, none of it asking the database. */
async function makeCaseOf(planGround: FoodPlanGround): Promise<FoodCase> {
  const { demand: ground, jars, today, from, question } = planGround
  const { lines, allLines, foodRoom } = ground
  const zones = [...ground.ground.zones].map(([id, { setPoints }]) => ({ id, setPoints: [...setPoints] }))
  const days = daysBetween(today, from) + question.weeks * 7
  const countedOn = lastCountByLine(foodRoom)
  const shelf = workOutJars({ lines: allLines, zones, jars, days, countedOn }, today)
  const { limits, closedDays } = foodRoom
  const closedOn = (side: 'room' | 'supplier') =>
    closedDays.filter((day) => day.side === side).map(({ on }) => on)
  const demand = await workOut(FOOD_DEMAND, ground.input, foodDemandSteps)
  const nameOf = (species: string) => ground.ground.species.get(species)?.scientificName ?? species
  const unfed = demand.unfed.map((each) => ({ ...each, species: nameOf(each.species) }))
  const built = roomCase(
    {
      today,
      weeks: question.weeks,
      demand,
      lines,
      roomOf: (line) => mainRoomOf(line, { jars, temperatureC: shelf.temperatureC }, shelf.learned),
      jars: jars.filter(({ endedOn }) => endedOn === null),
      laws: new Map(shelf.standing.map((standing) => [standing.jar.id, standing])),
      // Who eats between today and a later first day is not known, so nothing is said of what is left of them then.
      countedOn: from === today ? countedOn : null,
      suspicions: shelf.suspicions,
      stock: stockByLine(foodRoom, lines, today),
      orders: foodRoom.orders.map(({ line, dueOn, arrivedOn, packs, packSize }) => ({
        line,
        on: arrivedOn ?? maxDate(dueOn, today),
        hasArrived: arrivedOn !== null,
        count: packs * packSize,
      })),
      limits: {
        startWeekdays: question.startWeekdays ?? limits.startWeekdays,
        closedDays: closedOn('room'),
        supplierClosedDays: closedOn('supplier'),
        ...(limits.shelfPlaces === null ? {} : { shelfPlaces: limits.shelfPlaces }),
        ...(limits.minutesPerStartDay === null ? {} : { minutesPerStartDay: limits.minutesPerStartDay }),
      },
      serviceLevel: limits.serviceLevel,
    },
    question,
  )
  return { ...built, from, ...(unfed.length > 0 ? { unfed } : {}) }
}

export type KeptPlan = FoodPlan & {
  /** Names by id, for whoever reads the plan later. */
  names: { lines: Record<string, string>; classes: Record<string, string> }
  /** By class, what its animals have in common; plans of an earlier version have none. */
  keys?: Record<string, string>
}
export type FoodPlanRow = {
  id: string
  state: 'waiting' | 'running' | 'done' | 'failed'
  isTrial: boolean
  question: PlanQuestion
  from: PlainDate
  weeks: number
  progress: number
  answer: KeptPlan | null
  failure: string
  madeOn: PlainDate
  /** On the clock of the workspace, 24 hours. */
  madeAt: string
}

/** The newest plan in force, the newest trial after it, and what is under way or failed since. One statement. */
export async function loadFoodPlans(
  tx: Tx,
  { workspaceId, timeZone }: Pick<Workspace, 'workspaceId' | 'timeZone'>,
): Promise<{
  inForce: FoodPlanRow | null
  trial: FoodPlanRow | null
  pending: FoodPlanRow | null
  failed: FoodPlanRow | null
}> {
  const rows = await tx.$queryRaw<FoodPlanRow[]>`
    select p.id, p.state::text as state, p.is_trial as "isTrial", p.question, p.from_on::text as "from", p.weeks,
      p.progress, p.answer, p.failure, (p.created_at at time zone ${timeZone})::date::text as "madeOn",
      to_char(p.created_at at time zone ${timeZone}, 'HH24:MI') as "madeAt"
    from (
      select distinct on (x.is_trial, x.state in ('waiting', 'running'), x.state = 'failed') x.*
      from food_plan x where x.workspace_id = ${workspaceId}::uuid
      order by x.is_trial, x.state in ('waiting', 'running'), x.state = 'failed', x.id desc
    ) p order by p.id desc`
  const find = (matches: (row: FoodPlanRow) => boolean) => rows.find(matches) ?? null
  const inForce = find(({ state, isTrial, answer }) => state === 'done' && !isTrial && answer !== null)
  const since = (row: FoodPlanRow | null) => (row && (!inForce || row.id > inForce.id) ? row : null)
  return {
    inForce,
    trial: since(find(({ state, isTrial }) => state === 'done' && isTrial)),
    pending: find(({ state }) => state === 'waiting' || state === 'running'),
    failed: since(find(({ state, isTrial }) => state === 'failed' && !isTrial)),
  }
}

/** What has been written down since a plan was made, that a plan rests on. */
export type SincePlan = {
  started: number
  harvested: number
  ordered: number
  counted: number
  hatched: number
  dead: number
  sold: number
  figures: number
}

/** One statement; all nothing where there is no such plan. */
export async function countSincePlan(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<SincePlan> {
  const [since] = await tx.$queryRaw<SincePlan[]>`
    with plan as (select coalesce(started_at, created_at) as created_at from food_plan where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid)
    select
      (select count(*)::int from culture x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.created_at > p.created_at) as started,
      (select count(*)::int from harvest x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.created_at > p.created_at and x.archived_at is null) as harvested,
      (select coalesce(sum(x.packs), 0)::int from prey_order x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.created_at > p.created_at and x.cancelled_on is null) as ordered,
      (select count(*)::int from prey_count x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.created_at > p.created_at) as counted,
      (select coalesce(sum(x.count) filter (where x."to" in ('together', 'single')
          and x."from" = 'uncounted'), 0)::int
        from head_count_entry x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.recorded_at > p.created_at) as hatched,
      (select coalesce(sum(x.count) filter (where x."to" = 'dead'), 0)::int
        from head_count_entry x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.recorded_at > p.created_at) as dead,
      (select coalesce(sum(x.count) filter (where x."to" in ('sold', 'given_away')), 0)::int
        from head_count_entry x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.recorded_at > p.created_at) as sold,
      (select count(*)::int from prey_line_version x, plan p where x.workspace_id = ${workspaceId}::uuid
        and x.created_at > p.created_at) as figures`
  return (
    since ?? { started: 0, harvested: 0, ordered: 0, counted: 0, hatched: 0, dead: 0, sold: 0, figures: 0 }
  )
}

/** One plan. @throws AppError not-found */
export async function requireFoodPlan(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<Pick<FoodPlanRow, 'id' | 'state' | 'question'>> {
  const row = await tx.foodPlan.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: { id: true, state: true, question: true },
  })
  if (!row) throw refuseUnknown('plan')
  // Written only from a checked question.
  return { id: row.id, state: row.state, question: row.question as PlanQuestion }
}

export type ToldTasks = {
  plan: { answer: KeptPlan; madeOn: PlainDate } | null
  started: { line: string; on: PlainDate }[]
  ordered: { line: string; on: PlainDate; packs: number }[]
  standing: (PlacedJar & { id: string; label: string; line: string })[]
  figures: { line: string; content: PreyLine }[]
}

/** What the plan in force leaves to be done today, after what was done since it was made. One statement. */
export async function loadFoodTasks(tx: Tx, workspace: Workspace): Promise<DayTask[]> {
  const rows = await tx.$queryRaw<{ told: ToldTasks }[]>(selectFoodTasks(workspace))
  return rows[0] ? listFoodTasks(rows[0].told, workspace.today) : []
}

/** What these tasks are made from as one object, for a statement that asks for more than it. */
export function selectFoodTasks({ workspaceId, today, timeZone }: Workspace): Prisma.Sql {
  return Prisma.sql`
    with plan as (
      select x.id, x.answer, coalesce(x.started_at, x.created_at) as created_at, (x.created_at at time zone ${timeZone})::date as made_on from food_plan x
      where x.workspace_id = ${workspaceId}::uuid and not x.is_trial and x.state = 'done'
      order by x.id desc limit 1)
    select json_build_object(
      'plan', (select json_build_object('answer', p.answer, 'madeOn', p.made_on) from plan p),
      'started', (select coalesce(json_agg(json_build_object('line', c.slug, 'on', c.started_on)), '[]')
        from culture c, plan p where c.workspace_id = ${workspaceId}::uuid and c.created_at > p.created_at),
      'ordered', (select coalesce(json_agg(json_build_object('line', o.slug, 'on', o.ordered_on, 'packs', o.packs)),
          '[]')
        from prey_order o, plan p where o.workspace_id = ${workspaceId}::uuid and o.created_at > p.created_at
          and o.cancelled_on is null),
      'standing', (select coalesce(json_agg(json_build_object('id', c.id, 'label', c.label, 'line', c.slug,
          'startedOn', c.started_on, 'zoneId', c.zone_id, 'moves', (
            select coalesce(json_agg(json_build_object('on', v."on", 'fromZoneId', v.from_zone_id,
              'toZoneId', v.to_zone_id) order by v."on"), '[]')
            from culture_move v where v.workspace_id = c.workspace_id and v.culture_id = c.id
              and v.from_zone_id <> v.to_zone_id)) order by c.started_on, c.id), '[]')
        from culture c where c.workspace_id = ${workspaceId}::uuid and c.ended_on is null
          and c.started_on < ${today}::date - 20),
      'figures', (select coalesce(json_agg(json_build_object('line', v.slug, 'content', v.content)), '[]')
        from (select distinct on (x.slug) x.slug, x.content from prey_line_version x
          where x.workspace_id = ${workspaceId}::uuid order by x.slug, x.number desc) v)) as told`
}

/** `temperatureC` by zone, for jars that were moved: without it all zones are alike. */
export function listFoodTasks(
  told: ToldTasks,
  today: PlainDate,
  temperatureC: ReadonlyMap<string, number> = new Map(),
): DayTask[] {
  const lineOf = (id: string) =>
    told.figures.find(({ line }) => line === id)?.content ?? DEFAULT_PREY_LINES.find((line) => line.id === id)
  const past = told.standing.flatMap((jar) => {
    const supply = lineOf(jar.line)?.supply
    if (supply?.kind !== 'culture') return []
    const rateOf = (zoneId: string) =>
      developmentRate(supply.curve.value, temperatureC.get(zoneId) ?? USUAL_C)
    const since = addDays(jar.startedOn, discardAgeOfJar(jar, supply.discardAfterDays.value, rateOf))
    return since <= today ? [{ id: jar.id, label: jar.label, line: jar.line, since }] : []
  })
  return foodTasks({
    today,
    weeks: told.plan?.answer.weeks ?? [],
    nameOf: (id) => lineOf(id)?.name ?? id,
    started: told.started,
    ordered: told.ordered,
    past,
  })
}
