'use server'

import { recordArrival, recordClaimEnd } from '@/lib/features/arrival/mutations'
import { arrivalFormSchema, claimEndFormSchema } from '@/lib/features/arrival/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordArrivalAction = workspaceAction(
  { permission: 'order:write', schema: arrivalFormSchema },
  async ({ tx, workspace, input }) => recordArrival(tx, workspace, input),
)

export const recordClaimEndAction = workspaceAction(
  { permission: 'order:write', schema: claimEndFormSchema },
  async ({ tx, workspace, input }) => recordClaimEnd(tx, workspace, input),
)
