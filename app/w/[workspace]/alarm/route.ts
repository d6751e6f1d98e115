import { loadAlarmBar } from '@/lib/features/incident/loaders'

type Props = { params: Promise<{ workspace: string }> }

/** What an open page asks every few seconds; nothing is said where it knows it already. */
export async function GET(request: Request, { params }: Props): Promise<Response> {
  const { workspace } = await params
  const bar = await loadAlarmBar(workspace)
  const headers = { 'cache-control': 'no-store' }
  if (new URL(request.url).searchParams.get('version') === bar.version)
    return new Response(null, { status: 204, headers })
  return Response.json(bar, { headers })
}
