// The job that plans live food: records are read in one transaction, the plan is worked out outside of any.

import { keyOfClass } from '@/lib/domain/food-demand/stage-class'
import type { FoodCase } from '@/lib/domain/food-plan/case'
import { FOOD_PLAN, type FoodPlan } from '@/lib/domain/food-plan/plan'
import { type KeptPlan, loadFoodPlanGround } from '@/lib/features/food-plan/data'
import {
  createFoodReplan,
  recordFoodPlanAnswer,
  recordFoodPlanBegun,
  recordFoodPlanProgress,
} from '@/lib/features/food-plan/mutations'
import { AppError } from '@/lib/platform/errors'
import { enqueueMorningReplan, type FeatureJobs, readFoodPlanJob, readReplanJob } from '@/lib/platform/jobs'
import { log } from '@/lib/platform/log'
import { solvePlan } from '@/lib/platform/solver'
import { inWorkspace, mintScope, type Scope } from '@/lib/platform/workspace'

const LIMIT_MS = 60_000

export const FOOD_PLAN_JOBS: FeatureJobs = {
  tasks: {
    'plan-food': (payload) => plan(readFoodPlanJob(payload)),
    'replan-food': (payload) => replan(readReplanJob(payload)),
  },
  everyMinute: [],
}

/** Something has happened that a plan rests on, or a new day has begun. */
async function replan({ workspaceId }: { workspaceId: string }): Promise<void> {
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  const made = await inWorkspace(scope, createFoodReplan)
  if (made) await plan({ workspaceId, planId: made.id })
}

async function plan({ workspaceId, planId }: { workspaceId: string; planId: string }): Promise<void> {
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  const question = await inWorkspace(scope, (tx) => recordFoodPlanBegun(tx, scope.workspaceId, planId))
  if (!question) return
  try {
    const ground = await inWorkspace(scope, (tx, workspace) => loadFoodPlanGround(tx, workspace, question))
    const foodCase = await ground.makeCase()
    await inWorkspace(scope, (tx) =>
      recordFoodPlanProgress(tx, scope.workspaceId, { id: planId, progress: 0.4 }),
    )
    const answer = await solvePlan<FoodCase, FoodPlan>(FOOD_PLAN, foodCase, { timeLimitMs: LIMIT_MS })
    await keep(scope, planId, { answer: keepNames(answer, foodCase), failure: '' })
  } catch (error) {
    log.error(
      { where: 'plan-food', error: error instanceof Error ? error.message : String(error) },
      'no plan',
    )
    const failure = error instanceof AppError ? error.message : 'Something went wrong while it was planned.'
    await keep(scope, planId, { answer: null, failure })
  }
}

function keep(
  scope: Scope,
  id: string,
  { answer, failure }: { answer: KeptPlan | null; failure: string },
): Promise<void> {
  return inWorkspace(scope, async (tx, workspace) => {
    await recordFoodPlanAnswer(tx, scope.workspaceId, { id, answer, failure })
    await enqueueMorningReplan(tx, workspace)
  })
}

function keepNames(answer: FoodPlan, { lines, classes }: FoodCase): KeptPlan {
  const named = (list: readonly { id: string; name?: string }[]) =>
    Object.fromEntries(list.map(({ id, name }) => [id, name ?? id]))
  const keys = Object.fromEntries(classes.map((each) => [each.id, keyOfClass(each)]))
  return { ...answer, names: { lines: named(lines), classes: named(classes) }, keys }
}
