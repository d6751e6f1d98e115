'use server'

import { updateTakenFromTray } from '@/lib/features/tray/mutations'
import { trayTakingFormSchema } from '@/lib/features/tray/schema'
import { workspaceAction } from '@/lib/platform/action'

export const takeFromTrayAction = workspaceAction(
  { permission: 'individual:write', schema: trayTakingFormSchema },
  async ({ tx, scope, input }) => ({
    value: await updateTakenFromTray(tx, scope.workspaceId, input),
    warnings: [],
  }),
)
