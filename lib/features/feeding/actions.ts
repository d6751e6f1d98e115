'use server'

import { recordFeedings } from '@/lib/features/feeding/mutations'
import { newFeedingSchema } from '@/lib/features/feeding/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordFeedingsAction = workspaceAction(
  { permission: 'individual:write', schema: newFeedingSchema },
  async ({ tx, workspace, input }) => ({ value: await recordFeedings(tx, workspace, input), warnings: [] }),
)
