import { renderLabelsOffThread } from '@/lib/documents/label/render'
import { loadLabelsForPage } from '@/lib/features/care-sheet/loaders'
import { env } from '@/lib/platform/env'
import { requireIdParam } from '@/lib/platform/page'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string }> }

export async function GET(_: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const run = await loadLabelsForPage(
    { slug: workspace, permission: 'individual:read' },
    { ids: [requireIdParam(id)], choice: {}, address: env().PUBLIC_ADDRESS },
  )
  return pdfInTurn(workspace, async () => ({
    bytes: await renderLabelsOffThread(run),
    name: `label-${run.labels[0]?.code}.pdf`,
  }))
}
