import { renderCareSheetsOffThread } from '@/lib/documents/care-sheet/render'
import { loadLotSheetForPage } from '@/lib/features/care-sheet/loaders'
import { sheetChoiceSchema } from '@/lib/features/care-sheet/schema'
import { requireIdParam } from '@/lib/platform/page'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string }> }

export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const asked = sheetChoiceSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams))
  const sheet = await loadLotSheetForPage(
    { slug: workspace, permission: 'care-sheet:print' },
    { lotId: requireIdParam(id), choice: asked.success ? asked.data : {} },
  )
  return pdfInTurn(workspace, async () => ({
    bytes: await renderCareSheetsOffThread([sheet]),
    name: `care-sheet-${sheet.animal.labelCode}.pdf`,
  }))
}
