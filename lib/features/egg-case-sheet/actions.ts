'use server'

import { createEggCaseSheet } from '@/lib/features/egg-case-sheet/mutations'
import { newEggCaseSheetSchema } from '@/lib/features/egg-case-sheet/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createEggCaseSheetAction = workspaceAction(
  { permission: 'care-sheet:print', schema: newEggCaseSheetSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await createEggCaseSheet(tx, { scope, workspace }, input),
    warnings: [],
  }),
)
