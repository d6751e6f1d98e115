'use server'

import { recordLeaving, returnIndividual } from '@/lib/features/departure/mutations'
import { leavingFormSchema, returnFormSchema } from '@/lib/features/departure/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordLeavingAction = workspaceAction(
  { permission: 'individual:place', schema: leavingFormSchema },
  async ({ tx, scope, workspace, input }) => recordLeaving(tx, { scope, workspace }, input),
)

export const returnIndividualAction = workspaceAction(
  { permission: 'individual:place', schema: returnFormSchema },
  async ({ tx, scope, workspace, input }) => returnIndividual(tx, { scope, workspace }, input),
)
