'use server'

import { recordFeedings, recordTrayFeeding } from '@/lib/features/feeding/mutations'
import { feedingFormSchema, readNewFeeding } from '@/lib/features/feeding/schema'
import { trayFeedingFormSchema } from '@/lib/features/tray/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordFeedingsAction = workspaceAction(
  { permission: 'individual:write', schema: feedingFormSchema },
  async ({ tx, workspace, input }) => ({
    value: await recordFeedings(tx, workspace, readNewFeeding(input)),
    warnings: [],
  }),
)

export const recordTrayFeedingAction = workspaceAction(
  { permission: 'individual:write', schema: trayFeedingFormSchema },
  async ({ tx, workspace, input }) => ({
    value: await recordTrayFeeding(tx, workspace, input),
    warnings: [],
  }),
)
