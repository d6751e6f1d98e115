import type { Writable } from 'node:stream'
import type { z } from 'zod'
import type { ApiOperation } from '@/lib/platform/api/operation'
import { problemResponse } from '@/lib/platform/api/problem'
import { type ApiContext, openCall, type RouteArguments } from '@/lib/platform/api/route'
import { readFailure } from '@/lib/platform/failure'
import { withSentFile, zipResponse } from '@/lib/platform/file-stream'
import { type PdfFile, pdfInTurn } from '@/lib/platform/pdf-response'
import { inWorkspace } from '@/lib/platform/workspace'

export type StreamedFile = { name: string; write: (out: Writable) => Promise<void> }

/**
 * A route that hands out a PDF. What it says is read in one transaction; it is drawn after that is over, so that no
 * connection waits for a drawing. Both wait for what the same workspace is having drawn: the forecasts that a sheet
 * tells are worked out where everybody's requests are answered, and a neighbour with four printers must not do four
 * such things at once.
 */
export function apiPdfRoute<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType, D>(
  operation: ApiOperation<P, Q, B>,
  load: (context: ApiContext<P, Q, B>) => Promise<D>,
  draw: (loaded: D) => Promise<PdfFile>,
) {
  return async (request: Request, { params }: RouteArguments): Promise<Response> => {
    try {
      const { scope, parsed } = await openCall(operation, request, await params)
      return await pdfInTurn(scope.workspaceId, async () =>
        draw(await inWorkspace(scope, (tx, workspace) => load({ tx, scope, workspace, ...parsed }))),
      )
    } catch (error) {
      return problemResponse(readFailure(error, `${operation.method} ${operation.path}`))
    }
  }
}

/** A route that hands out a file which is written while it is sent. */
export function apiStreamRoute<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType>(
  operation: ApiOperation<P, Q, B>,
  load: (context: ApiContext<P, Q, B>) => Promise<StreamedFile>,
) {
  return async (request: Request, { params }: RouteArguments): Promise<Response> => {
    try {
      const { scope, parsed } = await openCall(operation, request, await params)
      const file = await inWorkspace(scope, (tx, workspace) => load({ tx, scope, workspace, ...parsed }))
      return await zipResponse(file.name, file.write)
    } catch (error) {
      return problemResponse(readFailure(error, `${operation.method} ${operation.path}`))
    }
  }
}

type Taking<D> = { most: number; take: (file: string, loaded: D) => Promise<unknown> }

/** A route whose body is a file. What is asked about it is read first; the file is looked at after that is over. */
export function apiUploadRoute<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType, D>(
  operation: ApiOperation<P, Q, B>,
  load: (context: ApiContext<P, Q, B>) => Promise<D>,
  { most, take }: Taking<D>,
) {
  return async (request: Request, { params }: RouteArguments): Promise<Response> => {
    try {
      const { scope, parsed } = await openCall(operation, request, await params)
      const loaded = await inWorkspace(scope, (tx, workspace) => load({ tx, scope, workspace, ...parsed }))
      const value = await withSentFile(request, most, (file) => take(file, loaded))
      return Response.json(operation.answer.parse(value), {
        status: operation.status ?? 201,
        headers: { 'cache-control': 'no-store' },
      })
    } catch (error) {
      return problemResponse(readFailure(error, `${operation.method} ${operation.path}`))
    }
  }
}
