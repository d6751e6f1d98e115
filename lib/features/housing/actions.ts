'use server'

import { recordMoves } from '@/lib/features/housing/mutations'
import { moveFormSchema } from '@/lib/features/housing/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordMovesAction = workspaceAction(
  { permission: 'individual:place', schema: moveFormSchema },
  async ({ tx, workspace, input }) => recordMoves(tx, workspace, input),
)
