import { loadBenchRun } from '@/lib/features/bench/loaders'
import { readRunQuery } from '@/lib/features/bench/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { readFailure } from '@/lib/platform/failure'

type Context = { params: Promise<{ run: string }> }

/** A run with all that a device needs to go on with it alone. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  try {
    const { run, workspaceId } = readRunQuery(request.url, await params)
    return Response.json(await loadBenchRun({ run, workspaceId }), {
      headers: { 'cache-control': 'no-store' },
    })
  } catch (error) {
    return problemResponse(readFailure(error, 'get /api/bench/runs'))
  }
}
