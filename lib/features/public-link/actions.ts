'use server'

import { revokePublicLink } from '@/lib/features/public-link/mutations'
import { revokePublicLinkSchema } from '@/lib/features/public-link/schema'
import { workspaceAction } from '@/lib/platform/action'

export const revokePublicLinkAction = workspaceAction(
  { permission: 'public-link:revoke', schema: revokePublicLinkSchema },
  async ({ tx, scope, input }) => ({
    value: await revokePublicLink(tx, scope.workspaceId, input),
    warnings: [],
  }),
)
