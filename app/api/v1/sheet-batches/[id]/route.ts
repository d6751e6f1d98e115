import { presentSheetBatch, requireSheetBatch } from '@/lib/features/sheet-batch/data'
import { sheetBatchApi } from '@/lib/features/sheet-batch/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(sheetBatchApi.get, async ({ tx, workspace, params }) =>
  presentSheetBatch(await requireSheetBatch(tx, workspace.workspaceId, params.id)),
)
