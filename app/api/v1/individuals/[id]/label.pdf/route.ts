import { renderLabelsOffThread } from '@/lib/documents/label/render'
import { loadLabels } from '@/lib/features/care-sheet/data'
import { careSheetApi } from '@/lib/features/care-sheet/schema'
import { apiPdfRoute } from '@/lib/platform/api/file-route'
import { env } from '@/lib/platform/env'

export const GET = apiPdfRoute(
  careSheetApi.labelPdf,
  ({ tx, workspace, params, query }) =>
    loadLabels(tx, workspace, { ids: [params.id], choice: query, address: env().PUBLIC_ADDRESS }),
  async (run) => ({ bytes: await renderLabelsOffThread(run), name: `label-${run.labels[0]?.code}.pdf` }),
)
