// What the door of the web server decides: so many requests are served at once, some wait a moment, the rest is told at once to
// come back. Answers with what is built in and the question whether it lives are never held up.

import { makeAdmission } from './admission.mjs'
import { addressHeader } from './forward.mjs'

/** Twelve database connections and one thread that renders: more than twice that at once is only slower, not more. */
const LIMITS = { places: 24, queue: 120, patienceMs: 5000 }
const RETRY_AFTER_SECONDS = 3

const isAlwaysServed = (url) => url.startsWith('/_next/static/') || url.startsWith('/api/health')

const SESSION = /(?:^|;\s*)[\w.-]*session-token(?:\.0)?=([^;]+)/

/** A token, a session, or an address: whoever shows neither shares with the others from there. */
function callerOf(request, hasProxy) {
  const { cookie, authorization } = request.headers
  const session = cookie?.match(SESSION)?.[1]
  return authorization ?? session ?? addressHeader(request, hasProxy).split(',').at(-1).trim()
}

const WORDS = 'Too many requests came at once. Nothing of this one was done; please try again in a moment.'

function refuse(request, response) {
  const isApi = request.url.startsWith('/api/')
  const problem = { type: '/problems/busy', title: 'Busy', status: 503, detail: WORDS, errors: [] }
  response.writeHead(503, {
    'content-type': isApi ? 'application/problem+json' : 'text/plain; charset=utf-8',
    'retry-after': String(RETRY_AFTER_SECONDS),
    'cache-control': 'no-store',
    'x-content-type-options': 'nosniff',
  })
  response.end(isApi ? JSON.stringify(problem) : WORDS)
}

/**
 * @param {(request: import('node:http').IncomingMessage, response: import('node:http').ServerResponse) => void} serve
 * @param {{limits?: typeof LIMITS, hasProxy?: boolean}} [options] `hasProxy`: one of our own says who asks
 * @returns the same, for as many at once as can be served in time
 */
export function guardAgainstOverload(serve, { limits = LIMITS, hasProxy = false } = {}) {
  const admission = makeAdmission(limits)
  return async (request, response) => {
    if (isAlwaysServed(request.url)) return serve(request, response)
    const caller = callerOf(request, hasProxy)
    if (!(await admission.enter(caller))) return refuse(request, response)
    // Who hung up while waiting leaves its place to the next.
    if (response.destroyed) return admission.release(caller)
    response.once('close', () => admission.release(caller))
    serve(request, response)
  }
}
