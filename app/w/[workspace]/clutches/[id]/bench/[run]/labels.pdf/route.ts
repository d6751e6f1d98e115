import { renderLabelsOffThread } from '@/lib/documents/label/render'
import { loadRunLabels } from '@/lib/features/separation/loaders'
import { env } from '@/lib/platform/env'
import { pdfResponse } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string; run: string }> }

/** One label for each cup of the run, in the order in which they were filled. */
export async function GET(_: Request, { params }: Context): Promise<Response> {
  const { workspace, id, run } = await params
  const labels = await loadRunLabels(workspace, { id, run, address: env().PUBLIC_ADDRESS })
  if (!labels) return new Response('No cup was filled in this run.', { status: 404 })
  return pdfResponse({
    bytes: await renderLabelsOffThread(labels),
    name: `labels-${labels.labels[0]?.code}.pdf`,
  })
}
