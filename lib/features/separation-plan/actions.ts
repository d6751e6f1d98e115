'use server'

import { recordBenchDay, updateBenchHours } from '@/lib/features/separation-plan/mutations'
import { recordBenchDaySchema, updateBenchHoursSchema } from '@/lib/features/separation-plan/schema'
import { workspaceAction } from '@/lib/platform/action'

export const updateBenchHoursAction = workspaceAction(
  { permission: 'clutch:write', schema: updateBenchHoursSchema },
  async ({ tx, scope, input }) => ({
    value: await updateBenchHours(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const recordBenchDayAction = workspaceAction(
  { permission: 'clutch:write', schema: recordBenchDaySchema },
  async ({ tx, workspace, input }) => ({ value: await recordBenchDay(tx, workspace, input), warnings: [] }),
)
