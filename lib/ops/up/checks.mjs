// What would stop the start half-way is looked at before anything is begun.
import fs from 'node:fs'
import { checkFreeSpace } from '../data-folder.mjs'
import { inProject, projectFolder } from '../place.mjs'
import { findFreePort, tryPort, waitForPort } from '../process/ports.mjs'
import { Refusal } from '../say.mjs'

const PORT_TROUBLES = {
  EACCES: (_, port) => `Port ${port} may only be used by root. Choose one above 1023: PORT=3000 npm run up`,
  EADDRNOTAVAIL: (host) =>
    `HOST is "${host}", which is no address of this machine. Use 127.0.0.1, or 0.0.0.0 for all.`,
  ENOTFOUND: (host) =>
    `HOST is "${host}", which is no name this machine knows. Use 127.0.0.1, or 0.0.0.0 for all.`,
}

async function findNextFree(host, port) {
  for (let next = port + 1; next < Math.min(port + 50, 65_536); next += 1) {
    if ((await tryPort(host, next)) === 'free') return next
  }
  return findFreePort(host)
}

/** @returns {Promise<number>} the port to serve on; a wish for 0 becomes a free one */
export async function checkPort({ host, port }) {
  if (port === 0) return findFreePort(host)
  const state = await waitForPort(host, port)
  if (state === 'free') return port
  if (PORT_TROUBLES[state]) throw new Refusal(PORT_TROUBLES[state](host, port))
  const other = await findNextFree(host, port)
  throw new Refusal(
    `Port ${port} on ${host} is taken by another program. Stop that one, or choose another port: PORT=${other} npm run up`,
  )
}

const MEGABYTE = 1024 * 1024

/** A first start installs and builds; later ones only need room for records. */
export function checkSpace(dataFolder) {
  const isFirst = !fs.existsSync(inProject('node_modules'))
  checkFreeSpace(projectFolder, (isFirst ? 1500 : 200) * MEGABYTE)
  checkFreeSpace(dataFolder, 200 * MEGABYTE)
}
