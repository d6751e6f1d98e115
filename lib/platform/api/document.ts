import { z } from 'zod'
import {
  type CreateDocumentOptions,
  createDocument,
  type ZodOpenApiObject,
  type ZodOpenApiOperationObject,
  type ZodOpenApiResponsesObject,
} from 'zod-openapi'
import type { ApiOperation } from '@/lib/platform/api/operation'

const problem = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number().int(),
    detail: z.string(),
    errors: z.array(z.strictObject({ path: z.string(), message: z.string() })),
  })
  .meta({
    id: 'Problem',
    description: 'An error after RFC 9457; present says what holds now where that helps.',
  })

const REFUSALS: Record<string, string> = {
  401: 'No token, or an unknown, expired or revoked one',
  403: 'The role of the token does not include this',
  404: 'Unknown here, or another workspace’s',
  409: 'A true conflict: already sold, more than are left, a stale version',
  422: 'Values that cannot be right, each with its path',
  429: 'Too many requests; see Retry-After',
  503: 'Too much at once; nothing of it was done, see Retry-After',
}

const idempotencyKey = z
  .string()
  .max(200)
  .optional()
  .meta({ description: 'The same key and body has its effect once and gets the first answer again.' })
const ifMatch = z
  .string()
  .optional()
  .meta({ description: 'The version the change was made on; a newer one answers 409.' })

export type ApiDocument = ReturnType<typeof createDocument>

/** A day and an id are said by their format; the patterns that check them fill a screen and help nobody. */
const READABLE: CreateDocumentOptions = {
  override: ({ jsonSchema }) => {
    if (jsonSchema.format === 'date' || jsonSchema.format === 'uuid') delete jsonSchema.pattern
  },
}

/** The OpenAPI 3.1 document of the given operations, from the very schemas that check their requests. */
export function createApiDocument(operations: readonly ApiOperation[]): ApiDocument {
  const paths: Record<string, Record<string, ZodOpenApiOperationObject>> = {}
  for (const operation of operations) {
    const path = paths[operation.path] ?? {}
    paths[operation.path] = path
    path[operation.method] = describeOperation(operation)
  }
  const described: ZodOpenApiObject = {
    openapi: '3.1.0',
    info: {
      title: 'Oothecary',
      version: '1',
      description:
        'Dates are YYYY-MM-DD, instants RFC 3339, temperatures °C, lengths mm, money in minor units. A list is {items, nextCursor}; give nextCursor as cursor for the next page. Unknown fields are refused.',
    },
    servers: [{ url: '/api/v1' }],
    security: [{ token: [] }],
    components: { securitySchemes: { token: { type: 'http', scheme: 'bearer' } } },
    paths,
  }
  return createDocument(described, READABLE)
}

function describeOperation(operation: ApiOperation): ZodOpenApiOperationObject {
  const { id, tag, summary, method, permission, params, query } = operation
  return {
    operationId: id,
    tags: [tag],
    summary,
    description: `Needs the permission ${permission}.`,
    requestParams: {
      ...(params instanceof z.ZodObject ? { path: params } : {}),
      ...(query instanceof z.ZodObject ? { query } : {}),
      ...(method === 'post' ? { header: z.strictObject({ 'Idempotency-Key': idempotencyKey }) } : {}),
      ...(method === 'patch' ? { header: z.strictObject({ 'If-Match': ifMatch }) } : {}),
    },
    ...describeBody(operation),
    responses: describeResponses(operation),
  }
}

const file = z.string().meta({ format: 'binary' })

function describeBody({ body, consumes }: ApiOperation): Pick<ZodOpenApiOperationObject, 'requestBody'> {
  if (consumes) return { requestBody: { required: true, content: { [consumes]: { schema: file } } } }
  return body ? { requestBody: { required: true, content: { 'application/json': { schema: body } } } } : {}
}

function describeResponses({
  method,
  status,
  answer,
  path,
  produces,
}: ApiOperation): ZodOpenApiResponsesObject {
  const success = String(status ?? (method === 'post' ? 201 : 200)) as `${1 | 2 | 3 | 4 | 5}${string}`
  const codes = Object.entries(REFUSALS).filter(([code]) => code !== '404' || path.includes('{'))
  const refusals = codes.map(([code, description]) => [
    code,
    { description, content: { 'application/problem+json': { schema: problem } } },
  ])
  return {
    [success]: {
      description: success === '201' ? 'Made' : 'As asked',
      content: { [produces ?? 'application/json']: { schema: answer } },
    },
    ...Object.fromEntries(refusals),
  }
}
