import type { FoodCase } from '@/lib/domain/food-plan/case'
import { FOOD_PLAN, type FoodPlan } from '@/lib/domain/food-plan/plan'
import { isAllowed } from '@/lib/domain/role/permissions'
import { loadFoodPlanGround } from '@/lib/features/food-plan/data'
import { FOOD_PLAN_LIMIT_MS } from '@/lib/features/food-plan/loaders'
import { foodPlanApi, readPostedCase } from '@/lib/features/food-plan/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'
import { solvePlan } from '@/lib/platform/solver'

/** Whoever posts a case knows what it costs; what the workspace pays is for those who may see it. */
type Asked = { makeCase: () => Promise<FoodCase>; maySeeCost: boolean }

/** The posted case and nothing else, or what the workspace has on record. */
export const POST = apiComputedRoute(
  foodPlanApi.create,
  async ({ tx, scope, workspace, body }): Promise<Asked> => {
    const { case: posted, from, weeks, serviceLevel, shelfPlaces, startDays } = body
    if (posted) return { makeCase: async () => readPostedCase({ ...body, case: posted }), maySeeCost: true }
    const ground = await loadFoodPlanGround(tx, workspace, {
      from,
      weeks,
      ...(serviceLevel === undefined ? {} : { serviceLevel }),
      ...(shelfPlaces === undefined ? {} : { shelfPlaces }),
      ...(startDays === undefined ? {} : { startWeekdays: startDays }),
    })
    return { makeCase: ground.makeCase, maySeeCost: isAllowed(scope.role, 'cost:read') }
  },
  async ({ makeCase, maySeeCost }) => {
    const plan = await solvePlan<FoodCase, FoodPlan>(FOOD_PLAN, await makeCase(), {
      timeLimitMs: FOOD_PLAN_LIMIT_MS,
    })
    return maySeeCost ? plan : { ...plan, cost: null }
  },
)
