'use server'

import { endMembership, updateRole } from '@/lib/features/membership/mutations'
import { changeRoleSchema, endMembershipSchema } from '@/lib/features/membership/schema'
import { workspaceAction } from '@/lib/platform/action'

export const changeRoleAction = workspaceAction(
  { permission: 'person:manage', schema: changeRoleSchema },
  async ({ tx, scope, input }) => ({
    value: null,
    warnings: await updateRole(tx, scope.workspaceId, input),
  }),
)

export const endMembershipAction = workspaceAction(
  { permission: 'person:manage', schema: endMembershipSchema },
  async ({ tx, scope, input }) => ({
    value: null,
    warnings: await endMembership(tx, scope.workspaceId, input.personId),
  }),
)
