import { loadRunStanding } from '@/lib/features/bench/loaders'
import { readRunQuery } from '@/lib/features/bench/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { readFailure } from '@/lib/platform/failure'

type Context = { params: Promise<{ run: string }> }

/** How a run stands now, for the devices that count at one clutch at the same time. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  try {
    const standing = await loadRunStanding(readRunQuery(request.url, await params))
    return Response.json({ standing }, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'get /api/bench/runs/standing'))
  }
}
