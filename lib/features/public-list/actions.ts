'use server'

import { revokePublicList, updatePublicList } from '@/lib/features/public-list/mutations'
import { closeListSchema, publishListSchema } from '@/lib/features/public-list/schema'
import { workspaceAction } from '@/lib/platform/action'

export const publishListAction = workspaceAction(
  { permission: 'workspace:write', schema: publishListSchema },
  async ({ tx, scope, input }) => ({
    value: await updatePublicList(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const closeListAction = workspaceAction(
  { permission: 'workspace:write', schema: closeListSchema },
  async ({ tx, scope, input }) => ({
    value: await revokePublicList(tx, scope.workspaceId, input),
    warnings: [],
  }),
)
