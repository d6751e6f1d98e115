'use server'

import { createApiToken, revokeApiToken } from '@/lib/features/api-token/mutations'
import { createApiTokenSchema, revokeApiTokenSchema } from '@/lib/features/api-token/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createApiTokenAction = workspaceAction(
  {
    permission: 'token:manage',
    schema: createApiTokenSchema,
    // The answer is kept for a second sending of the same call, the token is not.
    keep: ({ id }: { id: string; token: string | null }) => ({ id, token: null }),
  },
  async ({ tx, scope, input }) => ({ value: await createApiToken(tx, scope, input), warnings: [] }),
)

export const revokeApiTokenAction = workspaceAction(
  { permission: 'token:manage', schema: revokeApiTokenSchema },
  async ({ tx, scope, input }) => ({
    value: await revokeApiToken(tx, scope.workspaceId, input.id),
    warnings: [],
  }),
)
