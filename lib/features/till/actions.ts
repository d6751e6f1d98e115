'use server'

import { updateTill } from '@/lib/features/till/mutations'
import { tillSchema } from '@/lib/features/till/schema'
import { workspaceAction } from '@/lib/platform/action'

export const updateTillAction = workspaceAction(
  { permission: 'till:write', schema: tillSchema },
  async ({ tx, scope, input }) => ({ value: await updateTill(tx, scope.workspaceId, input), warnings: [] }),
)
