import { planSeparation } from '@/lib/domain/separation/plan'
import { loadPlanGround } from '@/lib/features/separation-plan/data'
import { PLAN_LIMIT_MS, PLAN_WITH_HELPS, presentSeparationPlan } from '@/lib/features/separation-plan/loaders'
import { separationPlanApi } from '@/lib/features/separation-plan/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'
import { solveSteps } from '@/lib/platform/solver'

export const POST = apiComputedRoute(
  separationPlanApi.create,
  ({ tx, workspace, body, query }) => loadPlanGround(tx, workspace, { ...body, asOf: query.asOf }),
  async (collected) => {
    const steps = planSeparation(collected.room, PLAN_WITH_HELPS)
    return presentSeparationPlan(await solveSteps(steps, { timeLimitMs: PLAN_LIMIT_MS }), collected)
  },
)
