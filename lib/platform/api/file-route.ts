import type { z } from 'zod'
import type { ApiOperation } from '@/lib/platform/api/operation'
import { problemResponse } from '@/lib/platform/api/problem'
import { type ApiContext, openCall, type RouteArguments } from '@/lib/platform/api/route'
import { readFailure } from '@/lib/platform/failure'
import { pdfResponse } from '@/lib/platform/pdf-response'
import { inWorkspace } from '@/lib/platform/workspace'

export type PdfFile = { bytes: Uint8Array; name: string }

/**
 * A route that hands out a PDF. What it says is read in one transaction; it is drawn after that is over, so that no
 * connection waits for a drawing.
 */
export function apiPdfRoute<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType, D>(
  operation: ApiOperation<P, Q, B>,
  load: (context: ApiContext<P, Q, B>) => Promise<D>,
  draw: (loaded: D) => Promise<PdfFile>,
) {
  return async (request: Request, { params }: RouteArguments): Promise<Response> => {
    try {
      const { scope, parsed } = await openCall(operation, request, await params)
      const loaded = await inWorkspace(scope, (tx, workspace) => load({ tx, scope, workspace, ...parsed }))
      return pdfResponse(await draw(loaded))
    } catch (error) {
      return problemResponse(readFailure(error, `${operation.method} ${operation.path}`))
    }
  }
}
