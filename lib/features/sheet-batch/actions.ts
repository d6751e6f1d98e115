'use server'

import { createSheetBatch, updateSheetBatch } from '@/lib/features/sheet-batch/mutations'
import { newSheetBatchSchema, repeatSheetBatchSchema } from '@/lib/features/sheet-batch/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createSheetBatchAction = workspaceAction(
  { permission: 'care-sheet:print', schema: newSheetBatchSchema },
  async ({ tx, scope, workspace, input }) => {
    const { value, warnings } = await createSheetBatch(tx, { scope, workspace }, input)
    const { id, paper } = value
    return { value: { id, paper }, warnings }
  },
)

export const repeatSheetBatchAction = workspaceAction(
  { permission: 'care-sheet:print', schema: repeatSheetBatchSchema },
  async ({ tx, scope, input }) => ({
    value: await updateSheetBatch(tx, scope.workspaceId, input.batch),
    warnings: [],
  }),
)
