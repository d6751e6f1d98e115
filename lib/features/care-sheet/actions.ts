'use server'

import { loadUnprintable } from '@/lib/features/care-sheet/data'
import { createCareSheets } from '@/lib/features/care-sheet/mutations'
import { newCareSheetsSchema } from '@/lib/features/care-sheet/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createCareSheetsAction = workspaceAction(
  { permission: 'care-sheet:print', schema: newCareSheetsSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await createCareSheets(tx, { scope, workspace }, input),
    warnings: await loadUnprintable(tx, workspace, { ids: input.individuals, note: input.note }),
  }),
)
