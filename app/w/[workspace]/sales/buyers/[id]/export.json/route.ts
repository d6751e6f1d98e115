import { loadBuyerExport } from '@/lib/features/buyer/loaders'

type Context = { params: Promise<{ workspace: string; id: string }> }

/** Everything on record about one person, as a file for them. */
export async function GET(_: Request, { params }: Context): Promise<Response> {
  const { workspace, id } = await params
  const record = await loadBuyerExport(workspace, id)
  return new Response(JSON.stringify(record, null, 2), {
    headers: {
      'content-type': 'application/json; charset=utf-8',
      'content-disposition': `attachment; filename="about-you-${record.writtenOn}.json"`,
      'cache-control': 'private, no-store',
    },
  })
}
