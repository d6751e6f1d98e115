import { renderCareSheetsOffThread } from '@/lib/documents/care-sheet/render'
import { loadLotSheet } from '@/lib/features/care-sheet/data'
import { careSheetApi } from '@/lib/features/care-sheet/schema'
import { apiPdfRoute } from '@/lib/platform/api/file-route'

export const GET = apiPdfRoute(
  careSheetApi.lotPdf,
  ({ tx, workspace, params, query }) => loadLotSheet(tx, workspace, { lotId: params.id, choice: query }),
  async (sheet) => ({
    bytes: await renderCareSheetsOffThread([sheet]),
    name: `care-sheet-${sheet.animal.labelCode}.pdf`,
  }),
)
