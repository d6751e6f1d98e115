import { requireSheetFile } from '@/lib/features/sheet-batch/data'
import { sheetBatchApi } from '@/lib/features/sheet-batch/schema'
import { apiPdfRoute } from '@/lib/platform/api/file-route'

export const GET = apiPdfRoute(
  sheetBatchApi.file,
  async ({ tx, workspace, params }) => ({
    bytes: await requireSheetFile(tx, workspace.workspaceId, {
      batchId: params.id,
      number: Number.parseInt(params.file, 10),
    }),
    name: `care-sheets-${params.file}`,
  }),
  async (file) => file,
)
