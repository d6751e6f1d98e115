// The web server as a plain node process: a wrapper that is killed by a signal would leave it orphaned.
import http from 'node:http'
import process from 'node:process'
import next from 'next'
import { projectFolder } from './place.mjs'
import { guardAgainstOverload } from './process/overload.mjs'

const DRAIN_MS = 10_000
const hostname = process.env.HOST
const port = Number(process.env.PORT)
const isDev = process.argv.includes('--dev')

let isStopping = false
let handle = null

const server = http.createServer((request, response) => {
  if (isStopping) response.setHeader('Connection', 'close')
  handle(request, response)
})

/** Lets requests in flight finish; nothing new comes in. */
async function drain(app) {
  isStopping = true
  const closed = new Promise((resolve) => server.close(resolve))
  const closeIdle = setInterval(() => server.closeIdleConnections(), 100)
  const giveUp = setTimeout(() => server.closeAllConnections(), DRAIN_MS)
  await closed
  clearInterval(closeIdle)
  clearTimeout(giveUp)
  await app.close()
}

const ANY_ADDRESS = { '0.0.0.0': '127.0.0.1', '::': '::1' }

/**
 * The framework runs the service's own start checks beside the first request, not before it: so nobody is told
 * "ready" before one was answered. A service that may not start has ended itself by then.
 */
async function answerOnce() {
  const host = ANY_ADDRESS[hostname] ?? hostname
  const named = host.includes(':') ? `[${host}]` : host
  const answer = await fetch(`http://${named}:${port}/api/health`, { headers: { connection: 'close' } })
  await answer.arrayBuffer()
}

async function start() {
  const app = next({ dev: isDev, dir: projectFolder, hostname, port, httpServer: server })
  await app.prepare()
  handle = guardAgainstOverload(app.getRequestHandler())
  await new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen({ host: hostname, port }, resolve)
  })
  process.on('message', async (message) => {
    if (message?.state !== 'stop' || isStopping) return
    await drain(app)
    process.exit(0)
  })
  await answerOnce()
  process.send?.({ state: 'ready' })
}

try {
  await start()
} catch (error) {
  const isTaken = error?.code === 'EADDRINUSE'
  process.stderr.write(isTaken ? `Port ${port} on ${hostname} is taken.\n` : `${error?.stack ?? error}\n`)
  process.exit(1)
}
