import { z } from 'zod'
import { isAllowed } from '@/lib/domain/role/permissions'
import type { ApiOperation } from '@/lib/platform/api/operation'
import { problemResponse } from '@/lib/platform/api/problem'
import { requireToken } from '@/lib/platform/api/token'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { readInput } from '@/lib/platform/input'
import { runOnce } from '@/lib/platform/operation'
import { inWorkspace, type Scope, type Workspace } from '@/lib/platform/workspace'

export type ApiContext<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType> = {
  tx: Tx
  scope: Scope
  workspace: Workspace
  params: z.output<P>
  query: z.output<Q>
  body: z.output<B>
  /** the version in If-Match, where the caller sent one */
  ifMatch: number | undefined
}

/** A route without a part in brackets gets no parameters at all, not an empty set of them. */
export type RouteArguments = { params: Promise<Record<string, string> | undefined> }
const BODY_LIMIT_BYTES = 2_000_000

/**
 * A route handler from its description: token, permission, parsing, one transaction, the answer or a problem. The
 * handler returns the answer's own value; what it returns is parsed too, so nothing undescribed leaves the service.
 */
export function apiRoute<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType, A extends z.ZodType>(
  operation: ApiOperation<P, Q, B, A>,
  handler: (context: ApiContext<P, Q, B>) => Promise<z.input<A>>,
) {
  return async (request: Request, { params }: RouteArguments): Promise<Response> => {
    try {
      const { scope, parsed } = await openCall(operation, request, await params)
      const work = (tx: Tx, workspace: Workspace) => handler({ tx, scope, workspace, ...parsed })
      const value = await perform({ operation, request, scope, parsed }, work)
      const status = operation.status ?? (operation.method === 'post' ? 201 : 200)
      return Response.json(operation.answer.parse(value), {
        status,
        headers: { 'cache-control': 'no-store' },
      })
    } catch (error) {
      return problemResponse(readFailure(error, `${operation.method} ${operation.path}`))
    }
  }
}

type Call = {
  operation: ApiOperation
  request: Request
  scope: Scope
  parsed: { params: unknown; body: unknown }
}

async function perform<T>(
  { operation, request, scope, parsed }: Call,
  work: (tx: Tx, w: Workspace) => Promise<T>,
) {
  const once = readIdempotencyKey({ operation, request, scope, parsed })
  return once ? (await runOnce(scope, once, work)).value : inWorkspace(scope, work)
}

/** Under which key a POST has its effect once; null where none was sent. */
export function readIdempotencyKey({ operation, request, scope, parsed }: Call) {
  const key = request.headers.get('idempotency-key')
  if (operation.method !== 'post' || operation.isUnkept || !key) return null
  if (key.length > 200) throw new AppError('invalid', 'An Idempotency-Key has at most 200 characters.')
  const content = { path: operation.path, params: parsed.params ?? null, body: parsed.body ?? null }
  return { key: `api:${scope.apiTokenId}:${key}`, content }
}

/** Who calls, and with what: token, permission and parsing, before a route of any kind can do anything. */
export async function openCall<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType>(
  operation: ApiOperation<P, Q, B>,
  request: Request,
  params: Record<string, string> | undefined,
) {
  const scope = await requireToken(request.headers.get('authorization'))
  if (!isAllowed(scope.role, operation.permission))
    throw new AppError('forbidden', 'The role of this token does not include this.')
  return { scope, parsed: await parseRequest(operation, request, params) }
}

/** The parts of a request, each checked against its description. */
async function parseRequest<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType>(
  operation: ApiOperation<P, Q, B>,
  request: Request,
  params: Record<string, string> | undefined,
) {
  const search = Object.fromEntries(new URL(request.url).searchParams)
  const ifMatch = request.headers.get('if-match')?.match(/^"?(\d{1,9})"?$/)?.[1]
  return {
    params: parsePart(operation.params ?? emptySchema, params ?? {}, 'path') as z.output<P>,
    query: parsePart(operation.query ?? emptySchema, search, 'query') as z.output<Q>,
    body: (operation.body
      ? parsePart(operation.body, await readJson(request), 'body')
      : undefined) as z.output<B>,
    ifMatch: ifMatch === undefined ? undefined : Number(ifMatch),
  }
}

const emptySchema = z.strictObject({})

function parsePart(schema: z.ZodType, value: unknown, part: string): unknown {
  const read = readInput(schema, value)
  if (read.status === 'ok') return read.data
  if (part === 'path') throw new AppError('not-found', 'There is no such thing here.')
  throw new AppError('invalid', `The ${part} needs another look.`, { fields: read.fields })
}

async function readJson(request: Request): Promise<unknown> {
  if (Number(request.headers.get('content-length') ?? 0) > BODY_LIMIT_BYTES) throw tooLarge()
  const text = await request.text()
  if (text.length > BODY_LIMIT_BYTES) throw tooLarge()
  try {
    return JSON.parse(text)
  } catch {
    throw new AppError('invalid', 'The body is not JSON.', { fields: [{ path: '', message: 'is not JSON' }] })
  }
}

function tooLarge(): AppError {
  return new AppError('too-large', 'The body is larger than 2 MB.')
}
