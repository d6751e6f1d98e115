import { presentSheetBatch } from '@/lib/features/sheet-batch/data'
import { createSheetBatch } from '@/lib/features/sheet-batch/mutations'
import { sheetBatchApi } from '@/lib/features/sheet-batch/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(sheetBatchApi.create, async ({ tx, scope, workspace, body }) => {
  const { value, warnings } = await createSheetBatch(tx, { scope, workspace }, body)
  return { ...presentSheetBatch(value), warnings }
})
