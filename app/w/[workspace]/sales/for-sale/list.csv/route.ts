import { loadForSaleFile } from '@/lib/features/price-list/loaders'
import { csvResponse } from '@/lib/platform/csv-response'

type Context = { params: Promise<{ workspace: string }> }

export async function GET(_: Request, { params }: Context): Promise<Response> {
  const { workspace } = await params
  const { text, name } = await loadForSaleFile(workspace)
  return csvResponse(text, name)
}
