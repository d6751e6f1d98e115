import { type AppError, REFUSAL_STATUS } from '@/lib/platform/errors'
import type { Failure } from '@/lib/platform/failure'

const TITLES: Record<number, string> = {
  401: 'Not signed in',
  403: 'Not allowed',
  404: 'Not found',
  409: 'Conflict',
  413: 'Too large',
  422: 'Values need another look',
  429: 'Too many requests',
  500: 'Something went wrong',
  503: 'Busy',
}

/** An error answer after RFC 9457. */
export function problemResponse(failure: Failure): Response {
  if ('reference' in failure)
    return problem(500, {
      type: '/problems/internal',
      detail: `Something went wrong. Reference ${failure.reference}.`,
    })
  const { code, message, fields, present } = failure.refusal
  const status = REFUSAL_STATUS[code]
  const headers = retryAfter(failure.refusal)
  return problem(status, { type: `/problems/${code}`, detail: message, errors: fields, present }, headers)
}

function problem(
  status: number,
  content: Record<string, unknown>,
  headers: Record<string, string> = {},
): Response {
  return new Response(JSON.stringify({ title: TITLES[status] ?? 'Error', status, errors: [], ...content }), {
    status,
    headers: { 'content-type': 'application/problem+json', 'cache-control': 'no-store', ...headers },
  })
}

function retryAfter(refusal: AppError): Record<string, string> {
  if (refusal.code === 'busy') return { 'retry-after': '3' }
  const { present } = refusal
  const known = typeof present === 'object' && present !== null && 'retryAfterSeconds' in present
  return known ? { 'retry-after': String(present.retryAfterSeconds) } : {}
}
