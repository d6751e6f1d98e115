// The web server as a plain node process: a wrapper that is killed by a signal would leave it orphaned.
import http from 'node:http'
import process from 'node:process'
import next from 'next'
import { projectFolder } from './place.mjs'
import { openDoor } from './web/door.mjs'
import { openPlainly } from './web/plain.mjs'

const DRAIN_MS = 10_000
const hostname = process.env.HOST
const port = Number(process.env.PORT)
const hasProxy = process.env.HAS_PROXY === 'yes'
const isDev = process.argv.includes('--dev')

let handle = null
let isStopping = false

const server = http.createServer({ maxHeaderSize: 32 * 1024 }, (request, response) =>
  handle(request, response),
)

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
  handle = app.getRequestHandler()
  const place = { host: hostname, port }
  // While developing the framework keeps a line of its own open to each page, which no door would let through.
  const open = await (isDev ? openPlainly(server, place) : openDoor(server, { ...place, hasProxy }))
  process.on('message', async (message) => {
    if (message?.state !== 'stop' || isStopping) return
    isStopping = true
    await open.drain(DRAIN_MS)
    await app.close()
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
