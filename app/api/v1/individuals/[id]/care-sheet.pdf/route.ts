import { renderCareSheetsOffThread } from '@/lib/documents/care-sheet/render'
import { loadCareSheets } from '@/lib/features/care-sheet/data'
import { careSheetApi } from '@/lib/features/care-sheet/schema'
import { apiPdfRoute } from '@/lib/platform/api/file-route'

export const GET = apiPdfRoute(
  careSheetApi.pdf,
  ({ tx, workspace, params, query }) => loadCareSheets(tx, workspace, { ids: [params.id], choice: query }),
  async (sheets) => ({
    bytes: await renderCareSheetsOffThread(sheets),
    name: `care-sheet-${sheets[0]?.animal.labelCode}.pdf`,
  }),
)
