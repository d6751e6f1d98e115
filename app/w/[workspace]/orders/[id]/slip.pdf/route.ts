import { renderSlipOffThread, type SlipKind } from '@/lib/documents/order/slip'
import { loadSlip } from '@/lib/features/order/loaders'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string }> }

const KINDS: readonly SlipKind[] = ['packing', 'carrier', 'collection']

export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const asked = new URL(request.url).searchParams
  const kind = KINDS.find((one) => one === asked.get('kind')) ?? 'packing'
  const slip = await loadSlip(workspace, id, { kind, language: asked.get('language') ?? undefined })
  return pdfInTurn(workspace, async () => ({
    bytes: await renderSlipOffThread(slip),
    name: `${kind}-slip-${slip.number}.pdf`,
  }))
}
