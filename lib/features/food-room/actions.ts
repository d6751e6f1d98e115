'use server'

import {
  archiveMouth,
  createMouth,
  recordClosedDay,
  updateFoodLimits,
} from '@/lib/features/food-room/mutations'
import {
  archiveMouthSchema,
  createMouthSchema,
  recordClosedDaySchema,
  updateFoodLimitsSchema,
} from '@/lib/features/food-room/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createMouthAction = workspaceAction(
  { permission: 'live-food:write', schema: createMouthSchema },
  async ({ tx, scope, input }) => ({ value: await createMouth(tx, scope.workspaceId, input), warnings: [] }),
)

export const archiveMouthAction = workspaceAction(
  { permission: 'live-food:write', schema: archiveMouthSchema },
  async ({ tx, scope, input }) => ({ value: await archiveMouth(tx, scope.workspaceId, input), warnings: [] }),
)

export const updateFoodLimitsAction = workspaceAction(
  { permission: 'live-food:write', schema: updateFoodLimitsSchema },
  async ({ tx, scope, input }) => ({
    value: await updateFoodLimits(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const recordClosedDayAction = workspaceAction(
  { permission: 'live-food:write', schema: recordClosedDaySchema },
  async ({ tx, workspace, input }) => ({ value: await recordClosedDay(tx, workspace, input), warnings: [] }),
)
