import type { FoodCase } from '@/lib/domain/food-plan/case'
import { FOOD_PLAN, type FoodPlan } from '@/lib/domain/food-plan/plan'
import { FOOD_PLAN_LIMIT_MS } from '@/lib/features/food-plan/loaders'
import { foodPlanApi, readPostedCase } from '@/lib/features/food-plan/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'
import { solvePlan } from '@/lib/platform/solver'

export const POST = apiComputedRoute(
  foodPlanApi.create,
  async ({ body }) => readPostedCase(body),
  (foodCase) => solvePlan<FoodCase, FoodPlan>(FOOD_PLAN, foodCase, { timeLimitMs: FOOD_PLAN_LIMIT_MS }),
)
