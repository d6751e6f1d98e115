import { renderBoxPapersOffThread } from '@/lib/documents/show-box/papers'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { loadBoxPapers } from '@/lib/features/show-box/loaders'
import { env } from '@/lib/platform/env'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string }> }

/** `?paper=a4&file=1`: tags, stand cards and sheets of a box; a large one is several files. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const query = new URL(request.url).searchParams
  const paper = PAPERS.find((each) => each === query.get('paper'))
  const asked = Number(query.get('file') ?? 1)
  const file = Number.isInteger(asked) && asked > 0 && asked < 100 ? asked : 1
  const payload = await loadBoxPapers(workspace, { id, paper, file, address: env().PUBLIC_ADDRESS })
  return pdfInTurn(workspace, async () => ({
    bytes: await renderBoxPapersOffThread(payload),
    name: `show-box-${payload.number}-${file}.pdf`,
  }))
}
