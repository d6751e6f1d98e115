import { renderLabelsOffThread } from '@/lib/documents/label/render'
import { loadChosenLabels } from '@/lib/features/care-sheet/loaders'
import { chosenLabelsQuerySchema } from '@/lib/features/care-sheet/schema'
import { env } from '@/lib/platform/env'
import { readInput } from '@/lib/platform/input'
import { pdfInTurn } from '@/lib/platform/pdf-response'

type Context = { params: Promise<{ workspace: string }> }

/** The labels of chosen animals in the order of their ids, for a roll or a sheet of labels. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace } = await params
  const query = Object.fromEntries(new URL(request.url).searchParams)
  const asked = readInput(chosenLabelsQuerySchema, query)
  if (asked.status === 'invalid')
    return new Response(asked.fields[0]?.message ?? 'No such labels.', { status: 422 })
  const labels = await loadChosenLabels(workspace, { ...asked.data, address: env().PUBLIC_ADDRESS })
  return pdfInTurn(workspace, async () => ({
    bytes: await renderLabelsOffThread(labels),
    name: 'labels.pdf',
  }))
}
