import { renderCareSheetsOffThread } from '@/lib/documents/care-sheet/render'
import { loadEggCaseSheet } from '@/lib/features/egg-case-sheet/data'
import { eggCaseSheetApi } from '@/lib/features/egg-case-sheet/schema'
import { apiPdfRoute } from '@/lib/platform/api/file-route'

export const GET = apiPdfRoute(
  eggCaseSheetApi.pdf,
  ({ tx, workspace, params, query }) => loadEggCaseSheet(tx, workspace, { id: params.id, choice: query }),
  async (sheet) => ({
    bytes: await renderCareSheetsOffThread([sheet]),
    name: `care-sheet-${sheet.animal.labelCode}.pdf`,
  }),
)
