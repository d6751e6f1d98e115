import type { FoodCase } from '@/lib/domain/food-plan/case'
import { FOOD_PLAN, type FoodPlan } from '@/lib/domain/food-plan/plan'
import { caseOfGround, loadFoodPlanGround } from '@/lib/features/food-plan/data'
import { FOOD_PLAN_LIMIT_MS } from '@/lib/features/food-plan/loaders'
import { foodPlanApi, readPostedCase } from '@/lib/features/food-plan/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'
import { solvePlan } from '@/lib/platform/solver'

/** The posted case and nothing else, or what the workspace has on record. */
export const POST = apiComputedRoute(
  foodPlanApi.create,
  async ({ tx, workspace, body }): Promise<() => FoodCase> => {
    const { case: posted, from, weeks, serviceLevel, shelfPlaces, startDays } = body
    if (posted) return () => readPostedCase({ ...body, case: posted })
    const ground = await loadFoodPlanGround(tx, workspace, {
      from,
      weeks,
      ...(serviceLevel === undefined ? {} : { serviceLevel }),
      ...(shelfPlaces === undefined ? {} : { shelfPlaces }),
      ...(startDays === undefined ? {} : { startWeekdays: startDays }),
    })
    return () => caseOfGround(ground)
  },
  (makeCase) => solvePlan<FoodCase, FoodPlan>(FOOD_PLAN, makeCase(), { timeLimitMs: FOOD_PLAN_LIMIT_MS }),
)
