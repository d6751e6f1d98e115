// Opens the door of the web server: a thread that takes every connection at once, however busy the one that renders is.
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import process from 'node:process'
import { Worker } from 'node:worker_threads'
import { inProject } from '../place.mjs'
import { listen } from './plain.mjs'

const PREFIX = 'oothecary-web-'

const isAlive = (pid) => {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error.code !== 'ESRCH'
  }
}

/** What a server left behind that was killed outright. */
function sweep() {
  for (const name of fs.readdirSync(os.tmpdir()).filter((each) => each.startsWith(PREFIX))) {
    const folder = path.join(os.tmpdir(), name)
    const isOurs = fs.statSync(folder, { throwIfNoEntry: false })?.uid === os.userInfo().uid
    if (isOurs && !isAlive(Number.parseInt(name.slice(PREFIX.length), 10)))
      fs.rmSync(folder, { recursive: true, force: true })
  }
}

/** A place for the socket between the two that only this user can enter. */
function makeFolder() {
  sweep()
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), `${PREFIX}${process.pid}-`))
  process.once('exit', () => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

/**
 * @param {import('node:http').Server} server which is reached through the door alone from here on
 * @param {{host: string, port: number, hasProxy: boolean}} outside where the door stands, and whether a proxy of our
 *   own stands before it
 * @returns {Promise<{drain: (graceMs: number) => Promise<void>}>} once connections are taken
 */
export async function openDoor(server, { host, port, hasProxy }) {
  const socketPath = path.join(makeFolder(), 'inner')
  // The door minds slow and idle callers; its own connections are kept.
  Object.assign(server, { keepAliveTimeout: 0, requestTimeout: 0, headersTimeout: 0 })
  await listen(server, { path: socketPath })
  const thread = new Worker(inProject('lib/ops/web/door-thread.mjs'), {
    workerData: { host, port, hasProxy, socketPath },
  })
  const hear = (state) =>
    new Promise((resolve) => thread.on('message', (message) => message.state === state && resolve(message)))
  const refused = new Promise((_, reject) => {
    thread.once('error', reject)
    thread.on(
      'message',
      ({ state, code }) => state === 'refused' && reject(Object.assign(new Error(code), { code })),
    )
  })
  await Promise.race([hear('open'), refused])
  // Without its door the server is of no use: it ends, and is started again.
  refused.catch((error) => {
    process.stderr.write(`${error?.stack ?? error}\n`)
    process.exit(1)
  })
  return {
    async drain(graceMs) {
      const drained = hear('drained')
      thread.postMessage({ state: 'drain', graceMs })
      await drained
      server.closeAllConnections()
      await new Promise((resolve) => server.close(resolve))
    },
  }
}
