'use server'

import { archiveClearance, createClearance } from '@/lib/features/clearance/mutations'
import { archiveClearanceSchema, clearanceFormSchema } from '@/lib/features/clearance/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createClearanceAction = workspaceAction(
  { permission: 'individual:clear', schema: clearanceFormSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await createClearance(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const archiveClearanceAction = workspaceAction(
  { permission: 'individual:clear', schema: archiveClearanceSchema },
  async ({ tx, workspace, input }) => ({ value: await archiveClearance(tx, workspace, input), warnings: [] }),
)
