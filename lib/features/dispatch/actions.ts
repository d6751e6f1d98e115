'use server'

import { recordAir, recordClosedForSending, updateDispatchRules } from '@/lib/features/dispatch/mutations'
import { closedForSendingSchema, recordAirSchema, updateRulesSchema } from '@/lib/features/dispatch/schema'
import { workspaceAction } from '@/lib/platform/action'

export const updateDispatchRulesAction = workspaceAction(
  { permission: 'order:write', schema: updateRulesSchema },
  async ({ tx, workspace, input }) => ({
    value: await updateDispatchRules(tx, workspace, input),
    warnings: [],
  }),
)

export const recordClosedForSendingAction = workspaceAction(
  { permission: 'order:write', schema: closedForSendingSchema },
  async ({ tx, workspace, input }) => ({
    value: await recordClosedForSending(tx, workspace, input),
    warnings: [],
  }),
)

export const recordAirAction = workspaceAction(
  { permission: 'order:write', schema: recordAirSchema },
  async ({ tx, workspace, input }) => ({ value: await recordAir(tx, workspace, input), warnings: [] }),
)
