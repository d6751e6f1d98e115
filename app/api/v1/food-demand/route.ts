import { FOOD_DEMAND, foodDemandSteps } from '@/lib/domain/food-demand/demand'
import { loadDemandGround } from '@/lib/features/food-demand/data'
import { presentFoodDemand } from '@/lib/features/food-demand/loaders'
import { foodDemandApi } from '@/lib/features/food-demand/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'
import { workOut } from '@/lib/platform/solver'

export const GET = apiComputedRoute(
  foodDemandApi.get,
  async ({ tx, workspace, query }) => ({
    ground: await loadDemandGround(tx, workspace, query),
    from: query.from ?? query.asOf ?? workspace.today,
    weeks: query.weeks,
  }),
  async ({ ground, from, weeks }) =>
    presentFoodDemand(await workOut(FOOD_DEMAND, ground.input, foodDemandSteps), { from, weeks, ground }),
)
