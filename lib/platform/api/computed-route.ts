import type { z } from 'zod'
import type { ApiOperation } from '@/lib/platform/api/operation'
import { problemResponse } from '@/lib/platform/api/problem'
import { type ApiContext, openCall, type RouteArguments, readIdempotencyKey } from '@/lib/platform/api/route'
import { readFailure } from '@/lib/platform/failure'
import { runOnce } from '@/lib/platform/operation'
import { inWorkspace } from '@/lib/platform/workspace'

/**
 * A route whose answer is worked out from what is recorded, without changing it. The records are read in one
 * transaction; the work is done after that is over, so that no connection waits for a solver. With an
 * Idempotency-Key the first answer is kept, and is the one that a second sending gets.
 */
export function apiComputedRoute<
  P extends z.ZodType,
  Q extends z.ZodType,
  B extends z.ZodType,
  A extends z.ZodType,
  D,
>(
  operation: ApiOperation<P, Q, B, A>,
  collect: (context: ApiContext<P, Q, B>) => Promise<D>,
  compute: (collected: D) => Promise<z.input<A>>,
) {
  return async (request: Request, { params }: RouteArguments): Promise<Response> => {
    try {
      const { scope, parsed } = await openCall(operation, request, await params)
      const collected = await inWorkspace(scope, (tx, workspace) =>
        collect({ tx, scope, workspace, ...parsed }),
      )
      const answer = operation.answer.parse(await compute(collected))
      const once = readIdempotencyKey({ operation, request, scope, parsed })
      const value = once ? (await runOnce(scope, once, async () => answer)).value : answer
      const status = operation.status ?? (operation.method === 'post' ? 201 : 200)
      return Response.json(value, { status, headers: { 'cache-control': 'no-store' } })
    } catch (error) {
      return problemResponse(readFailure(error, `${operation.method} ${operation.path}`))
    }
  }
}
