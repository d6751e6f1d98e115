import type { z } from 'zod'
import type { Permission } from '@/lib/domain/role/permissions'

/** One call of the JSON API, described once for its route, its checks and the OpenAPI document. */
export type ApiOperation<
  P extends z.ZodType = z.ZodType,
  Q extends z.ZodType = z.ZodType,
  B extends z.ZodType = z.ZodType,
  A extends z.ZodType = z.ZodType,
> = {
  id: string
  method: 'get' | 'post' | 'patch'
  /** as in the document, `/egg-cases/{id}/hatches`, without the `/api/v1` in front */
  path: string
  tag: string
  summary: string
  permission: Permission
  params?: P
  query?: Q
  body?: B
  answer: A
  status?: 200 | 201
  /** it changes nothing and shows a secret: its answer is kept for no repetition */
  isUnkept?: true
  /** media type of an answer that is a file; JSON where left out */
  produces?: string
  /** media type of a body that is a file, not JSON */
  consumes?: string
}

/** Keeps the types of a description while it is written as a plain object. */
export function describeApi<
  P extends z.ZodType,
  Q extends z.ZodType,
  B extends z.ZodType,
  A extends z.ZodType,
>(operation: ApiOperation<P, Q, B, A>): ApiOperation<P, Q, B, A> {
  return operation
}
