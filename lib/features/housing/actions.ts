'use server'

import { recordClutchHousing, recordMoves, recordMovesUp } from '@/lib/features/housing/mutations'
import { clutchHousingFormSchema, moveFormSchema, movesUpFormSchema } from '@/lib/features/housing/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordMovesAction = workspaceAction(
  { permission: 'individual:place', schema: moveFormSchema },
  async ({ tx, workspace, input }) => recordMoves(tx, workspace, input),
)

export const recordMovesUpAction = workspaceAction(
  { permission: 'individual:place', schema: movesUpFormSchema },
  async ({ tx, workspace, input }) => recordMovesUp(tx, workspace, input),
)

export const houseClutchAction = workspaceAction(
  { permission: 'clutch:write', schema: clutchHousingFormSchema },
  async ({ tx, workspace, input }) => recordClutchHousing(tx, workspace, input),
)
