import type { FoodPlanRow, KeptPlan, PlanQuestion } from '@/lib/features/food-plan/data'
import { requireFoodPlan } from '@/lib/features/food-plan/data'
import type { AskFoodPlan } from '@/lib/features/food-plan/schema'
import type { Tx } from '@/lib/platform/db'
import { enqueueFoodPlan } from '@/lib/platform/jobs'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * Asks for a plan, or for a trial of what would be otherwise. It is worked out by a job once this is committed; while
 * one like it waits, asking again asks for nothing more.
 */
export async function createFoodPlan(
  tx: Tx,
  { scope, workspace: { workspaceId, today } }: Actor,
  asked: AskFoodPlan,
): Promise<{ id: string }> {
  const question = readQuestion(asked)
  const isTrial = Object.keys(question).length > 1
  // Two who ask at once follow each other, and the second finds the first one's.
  await tx.$executeRaw`select 1 from workspace where workspace_id = ${workspaceId}::uuid for update`
  const waiting = await tx.foodPlan.findFirst({
    where: { workspaceId, state: 'waiting', isTrial, question: { equals: question } },
    select: { id: true },
  })
  if (waiting) return waiting
  const made = await tx.foodPlan.create({
    data: {
      workspaceId,
      question,
      isTrial,
      fromOn: fromPlainDate(today),
      weeks: asked.weeks,
      askedBy: scope.personId,
    },
    select: { id: true },
  })
  await enqueueFoodPlan(tx, workspaceId, made.id)
  return made
}

/**
 * The plan in force made anew from what has happened since, to be worked out by whoever asks. Null where nobody has
 * asked for one yet, or one is waiting that will see all of it.
 */
export async function createFoodReplan(
  tx: Tx,
  { workspaceId, today }: Workspace,
): Promise<{ id: string } | null> {
  const newest = await tx.foodPlan.findFirst({
    where: { workspaceId, isTrial: false },
    orderBy: { id: 'desc' },
    select: { state: true, weeks: true },
  })
  if (!newest || newest.state === 'waiting') return null
  const { weeks } = newest
  return tx.foodPlan.create({
    data: { workspaceId, question: { weeks }, isTrial: false, fromOn: fromPlainDate(today), weeks },
    select: { id: true },
  })
}

function readQuestion({ weeks, shelfPlaces, servicePercent, hatch }: AskFoodPlan): PlanQuestion {
  const [how, id] = hatch.split(':')
  return {
    weeks,
    ...(shelfPlaces === undefined ? {} : { shelfPlaces }),
    ...(servicePercent === undefined ? {} : { serviceLevel: servicePercent / 100 }),
    ...(id ? { hatch: { id, times: how === 'less' ? 0 : 2 } } : {}),
  }
}

/** That the work has begun; null where it was begun before, or is done. */
export async function recordFoodPlanBegun(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<PlanQuestion | null> {
  const { question } = await requireFoodPlan(tx, workspaceId, id)
  const begun = await tx.foodPlan.updateMany({
    where: { workspaceId, id, state: { in: ['waiting', 'running'] } },
    data: { state: 'running', progress: 0.1, startedAt: new Date() },
  })
  return begun.count === 1 ? question : null
}

export async function recordFoodPlanProgress(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, progress }: Pick<FoodPlanRow, 'id' | 'progress'>,
): Promise<void> {
  await requireFoodPlan(tx, workspaceId, id)
  await tx.foodPlan.updateMany({ where: { workspaceId, id, state: 'running' }, data: { progress } })
}

/** The plan, kept with its reasons; or in words why there is none. */
export async function recordFoodPlanAnswer(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, answer, failure }: { id: string; answer: KeptPlan | null; failure: string },
): Promise<void> {
  await requireFoodPlan(tx, workspaceId, id)
  await tx.foodPlan.updateMany({
    where: { workspaceId, id, state: { in: ['waiting', 'running'] } },
    data: {
      state: answer ? 'done' : 'failed',
      progress: 1,
      finishedAt: new Date(),
      failure,
      ...(answer ? { answer: JSON.parse(JSON.stringify(answer)) } : {}),
    },
  })
  await forgetOldAnswers(tx, workspaceId)
}

/** Plans are made anew many times a day: of those before the last few stays that there was one. */
const KEPT_ANSWERS = 6

async function forgetOldAnswers(tx: Tx, workspaceId: WorkspaceId): Promise<void> {
  await tx.$executeRaw`
    update food_plan set answer = null
    where workspace_id = ${workspaceId}::uuid and answer is not null and id < (
      select min(x.id::text)::uuid from (
        select p.id from food_plan p where p.workspace_id = ${workspaceId}::uuid and p.answer is not null
        order by p.id desc limit ${KEPT_ANSWERS}) x)`
}
