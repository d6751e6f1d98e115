'use server'

import { recordFeedings } from '@/lib/features/feeding/mutations'
import { feedingFormSchema, readNewFeeding } from '@/lib/features/feeding/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordFeedingsAction = workspaceAction(
  { permission: 'individual:write', schema: feedingFormSchema },
  async ({ tx, workspace, input }) => ({
    value: await recordFeedings(tx, workspace, readNewFeeding(input)),
    warnings: [],
  }),
)
