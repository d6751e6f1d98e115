'use server'

import { createFoodPlan } from '@/lib/features/food-plan/mutations'
import { askFoodPlanSchema } from '@/lib/features/food-plan/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createFoodPlanAction = workspaceAction(
  { permission: 'live-food:write', schema: askFoodPlanSchema },
  async ({ tx, input, ...actor }) => ({ value: await createFoodPlan(tx, actor, input), warnings: [] }),
)
