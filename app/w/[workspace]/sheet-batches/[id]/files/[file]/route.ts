import { loadSheetFileForPage } from '@/lib/features/sheet-batch/loaders'
import { pdfResponse } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string; id: string; file: string }> }

/** A finished file: `1.pdf`. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { workspace, id, file } = await params
  const number = /^(\d{1,3})\.pdf$/.exec(file)?.[1] ?? '0'
  const bytes = await loadSheetFileForPage(workspace, { batch: id, number: Number(number) })
  return pdfResponse({ bytes, name: `care-sheets-${number}.pdf` })
}
