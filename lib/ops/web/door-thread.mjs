// The door itself: takes connections, sends away who comes while too much is asked for, hands the rest on.
import http from 'node:http'
import { parentPort, workerData } from 'node:worker_threads'
import { makeForward } from './forward.mjs'
import { guardAgainstOverload } from './overload.mjs'
import { drainServer } from './plain.mjs'

const { host, port, hasProxy, socketPath } = workerData
const QUEUE_OF_THE_SYSTEM = 1024

const forward = makeForward({ socketPath, hasProxy })
const server = http.createServer(guardAgainstOverload(forward, { hasProxy }))

parentPort.on('message', async ({ state, graceMs }) => {
  if (state !== 'drain') return
  await drainServer(server, graceMs)
  parentPort.postMessage({ state: 'drained' })
})
server.once('error', ({ code }) => parentPort.postMessage({ state: 'refused', code }))
server.listen({ host, port, backlog: QUEUE_OF_THE_SYSTEM }, () => parentPort.postMessage({ state: 'open' }))
