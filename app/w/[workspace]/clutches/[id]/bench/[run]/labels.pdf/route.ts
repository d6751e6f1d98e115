import { renderLabelsOffThread } from '@/lib/documents/label/render'
import { loadRunLabels } from '@/lib/features/separation/loaders'
import { runLabelsQuerySchema } from '@/lib/features/separation/schema'
import { env } from '@/lib/platform/env'
import { readInput } from '@/lib/platform/input'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string; run: string }> }

/** One label for each cup of the run, in the order in which they were filled, for the roll or a sheet of labels. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace, id, run } = await params
  const asked = readInput(runLabelsQuerySchema, Object.fromEntries(new URL(request.url).searchParams))
  if (asked.status === 'invalid')
    return new Response(asked.fields[0]?.message ?? 'No such sheet of labels.', { status: 422 })
  const labels = await loadRunLabels(workspace, {
    id,
    run,
    address: env().PUBLIC_ADDRESS,
    paper: asked.data,
  })
  if (!labels) return new Response('No cup was filled in this run.', { status: 404 })
  return pdfInTurn(workspace, async () => ({
    bytes: await renderLabelsOffThread(labels),
    name: `labels-${labels.labels[0]?.code}.pdf`,
  }))
}
