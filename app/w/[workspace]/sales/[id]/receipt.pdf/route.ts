import { RECEIPT_PAPERS, renderReceiptOffThread } from '@/lib/documents/receipt/render'
import { loadReceiptPayload } from '@/lib/features/sale/loaders'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string }> }

/** `?paper=roll`, `a4` or `letter`; a roll where nothing is said. `?language=`: as its buyer reads where left out. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const query = new URL(request.url).searchParams
  const paper = RECEIPT_PAPERS.find((each) => each === query.get('paper')) ?? 'roll'
  const language = query.get('language') ?? undefined
  const payload = await loadReceiptPayload(workspace, { id, paper, language })
  return pdfInTurn(workspace, async () => ({
    bytes: await renderReceiptOffThread(payload),
    name: `receipt-${payload.receipt}.pdf`,
  }))
}
