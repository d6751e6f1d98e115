'use server'

import { recordWatch } from '@/lib/features/watch/mutations'
import { recordWatchSchema } from '@/lib/features/watch/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordWatchAction = workspaceAction(
  { permission: 'zone:write', schema: recordWatchSchema },
  async ({ tx, scope, input }) => ({ value: await recordWatch(tx, scope.workspaceId, input), warnings: [] }),
)
