'use server'

import { acceptInvitation, createInvitation, revokeInvitation } from '@/lib/features/invitation/mutations'
import {
  acceptInvitationSchema,
  createInvitationSchema,
  revokeInvitationSchema,
} from '@/lib/features/invitation/schema'
import { openAction, workspaceAction } from '@/lib/platform/action'
import { readSignedIn } from '@/lib/platform/current-session'

export const createInvitationAction = workspaceAction(
  { permission: 'person:manage', schema: createInvitationSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await createInvitation(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const revokeInvitationAction = workspaceAction(
  { permission: 'person:manage', schema: revokeInvitationSchema },
  async ({ tx, scope, input }) => ({
    value: await revokeInvitation(tx, scope.workspaceId, input.id),
    warnings: [],
  }),
)

export const acceptInvitationAction = openAction<typeof acceptInvitationSchema, { slug: string }>(
  acceptInvitationSchema,
  async ({ token }) => {
    const person = await readSignedIn()
    if (!person) return { status: 'signed-out' }
    return { status: 'done', value: await acceptInvitation(token, person) }
  },
)
