// A server behind the door whose one thread is as busy as it is asked to be. Started by tests/ops/door.test.ts.
import http from 'node:http'
import process from 'node:process'
import { openDoor } from '../../lib/ops/web/door.mjs'

const BUSY_MS = 25
let hungUp = 0

async function readBody(request) {
  let body = ''
  for await (const chunk of request) body += chunk
  return body
}

const answers = {
  '/busy': (_, response) => {
    const end = performance.now() + BUSY_MS
    while (performance.now() < end);
    response.end('done')
  },
  '/echo': async (request, response) => {
    const { method, headers } = request
    response.appendHeader('set-cookie', 'first=1')
    response.appendHeader('set-cookie', 'second=2')
    response.end(JSON.stringify({ method, headers, body: await readBody(request) }))
  },
  '/slow': (_, response) => {
    response.write('begun')
    setTimeout(() => response.end(' and finished'), 700)
  },
  '/broken': (request) => request.socket.destroy(),
  '/never': (_, response) => response.once('close', () => (hungUp += 1)),
  '/hung-up': (_, response) => response.end(String(hungUp)),
}

const server = http.createServer((request, response) => answers[request.url](request, response))
const place = {
  host: '127.0.0.1',
  port: Number(process.env.PORT),
  hasProxy: process.env.HAS_PROXY === 'yes',
}
const door = await openDoor(server, place).catch(({ code }) => {
  process.stderr.write(`refused: ${code}\n`)
  process.exit(1)
})
process.on('message', async () => {
  await door.drain(10_000)
  process.exit(0)
})
process.send('ready')
