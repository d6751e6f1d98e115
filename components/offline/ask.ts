/** What came of a question: the answer, or why there is none. */
export type Asked<T> =
  | { kind: 'answered'; value: T }
  | { kind: 'offline' }
  | { kind: 'signed-out' }
  | { kind: 'refused'; message: string }
  | { kind: 'failed' }

const PATIENCE_MS = 20_000

/** Asks the service for JSON. A server that is not there and one that does not answer in time are the same. */
export async function ask<T>(path: string, read: (body: unknown) => T | undefined, init?: RequestInit) {
  let response: Response
  try {
    response = await fetch(path, { ...init, signal: AbortSignal.timeout(PATIENCE_MS) })
  } catch {
    // The browser's word for a connection that is gone.
    return { kind: 'offline' } as const
  }
  const body: unknown = await response.json().catch(() => undefined) // cut off on its way: no answer
  return sort(response.status, body, read)
}

function sort<T>(status: number, body: unknown, read: (body: unknown) => T | undefined): Asked<T> {
  if (status === 401) return { kind: 'signed-out' }
  if (status === 403 || status === 404 || status === 409) return { kind: 'refused', message: messageOf(body) }
  if (status !== 200) return { kind: 'failed' }
  const value = read(body)
  return value === undefined ? { kind: 'failed' } : { kind: 'answered', value }
}

function messageOf(body: unknown): string {
  const said = typeof body === 'object' && body !== null && 'detail' in body ? body.detail : undefined
  return typeof said === 'string' ? said : 'The service refused this.'
}
