// The web server as a plain node process: a wrapper that is killed by a signal would leave it orphaned.
import http from 'node:http'
import process from 'node:process'
import next from 'next'
import { projectFolder } from './place.mjs'

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

async function start() {
  const app = next({ dev: isDev, dir: projectFolder, hostname, port, httpServer: server })
  await app.prepare()
  handle = app.getRequestHandler()
  await new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen({ host: hostname, port }, resolve)
  })
  process.on('message', async (message) => {
    if (message?.state !== 'stop' || isStopping) return
    await drain(app)
    process.exit(0)
  })
  process.send?.({ state: 'ready' })
}

try {
  await start()
} catch (error) {
  const isTaken = error?.code === 'EADDRINUSE'
  process.stderr.write(isTaken ? `Port ${port} on ${hostname} is taken.\n` : `${error?.stack ?? error}\n`)
  process.exit(1)
}
