'use server'

import { createHandOver, endHandOver, recordTakeOver } from '@/lib/features/hand-over/mutations'
import { newHandOverSchema, takeOverSchema, withdrawSchema } from '@/lib/features/hand-over/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createHandOverAction = workspaceAction(
  { permission: 'individual:write', schema: newHandOverSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await createHandOver(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const endHandOverAction = workspaceAction(
  { permission: 'individual:write', schema: withdrawSchema },
  async ({ tx, workspace, input }) => {
    await endHandOver(tx, workspace, input)
    return { value: { id: input.id }, warnings: [] }
  },
)

export const takeOverAction = workspaceAction(
  { permission: 'individual:write', schema: takeOverSchema },
  async ({ tx, scope, workspace, input }) => recordTakeOver(tx, { scope, workspace }, input),
)
