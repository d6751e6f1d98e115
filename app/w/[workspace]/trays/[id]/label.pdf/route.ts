import { renderLabelsOffThread } from '@/lib/documents/label/render'
import { loadTrayLabel } from '@/lib/features/tray/loaders'
import { env } from '@/lib/platform/env'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string }> }

export async function GET(_: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const label = await loadTrayLabel(workspace, { id, address: env().PUBLIC_ADDRESS })
  if (!label) return new Response('Nobody stands on this tray any more.', { status: 404 })
  return pdfInTurn(workspace, async () => ({
    bytes: await renderLabelsOffThread(label),
    name: `label-${label.labels[0]?.code}.pdf`,
  }))
}
