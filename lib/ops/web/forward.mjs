// Hands a request on to the server behind the door and its answer back, over a socket that nobody else can reach.
import http from 'node:http'
import { pipeline } from 'node:stream'

/** What is said from one hop to the next, and agreed anew on each. */
const OF_ONE_HOP = new Set([
  'connection',
  'expect',
  'keep-alive',
  'proxy-authenticate',
  'proxy-authorization',
  'proxy-connection',
  'te',
  'trailer',
  'transfer-encoding',
  'upgrade',
])

/** Name and value in turn, as they came: a header that was sent twice is sent twice. */
function keptHeaders(raw, isDropped) {
  const kept = []
  for (let at = 0; at < raw.length; at += 2) {
    const name = raw[at].toLowerCase()
    if (!OF_ONE_HOP.has(name) && !isDropped(name)) kept.push(raw[at], raw[at + 1])
  }
  return kept
}

/**
 * Who asks, as the last hop in front of us knows it: what a proxy of our own wrote, or the address at the other end of
 * the line. Without a proxy everything under this name was made up by the caller.
 */
export function addressHeader({ headers, socket }, hasProxy) {
  const given = hasProxy ? headers['x-forwarded-for'] : undefined
  return given ?? socket.remoteAddress ?? ''
}

function headersFor(request, hasProxy) {
  const kept = keptHeaders(request.rawHeaders, (name) => name === 'x-forwarded-for')
  kept.push('x-forwarded-for', addressHeader(request, hasProxy))
  // A body without a length is sent in pieces of its own on the next hop too.
  if (request.headers['transfer-encoding']) kept.push('transfer-encoding', 'chunked')
  return kept
}

function refuseBroken(response) {
  if (response.headersSent) return response.destroy()
  response.writeHead(502, { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store' })
  response.end('The service did not answer. Please look whether this was done before you try again.')
}

/**
 * @param {{socketPath: string, hasProxy: boolean}} behind
 * @returns {(request: http.IncomingMessage, response: http.ServerResponse) => void}
 */
export function makeForward({ socketPath, hasProxy }) {
  const agent = new http.Agent({ keepAlive: true })
  return (request, response) => {
    const { method, url: path } = request
    const inner = http.request({ socketPath, agent, method, path, headers: headersFor(request, hasProxy) })
    inner.once('response', (answer) => {
      const { statusCode, statusMessage, rawHeaders } = answer
      response.writeHead(
        statusCode,
        statusMessage,
        keptHeaders(rawHeaders, () => false),
      )
      pipeline(answer, response, () => {})
    })
    inner.once('error', () => refuseBroken(response))
    // Who hung up is not worked for any longer.
    response.once('close', () => response.writableFinished || inner.destroy())
    pipeline(request, inner, () => {})
  }
}
