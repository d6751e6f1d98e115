// A database cluster that is thrown away: for the tests, the benchmarks and the comparison of schemas.
import { randomBytes } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describeCluster, startCluster, stopCluster } from '../database/cluster.mjs'
import { embeddedUrl, urlOfDatabase, withConnection } from '../database/connection.mjs'
import { choosePostgresUser, findBlockingFolder } from '../database/postgres-user.mjs'
import { createDatabase, prepareDatabase } from '../database/prepare.mjs'
import { readHolder, takeLock } from '../process/lock.mjs'
import { Refusal } from '../say.mjs'

const PREFIX = 'oothecary-scratch-'
export const TEMPLATE = 'oothecary_template'

/** Nothing here has to survive a power cut, and a suite opens many databases at once. */
const FAST = ['fsync = off', 'full_page_writes = off', 'max_connections = 200', 'logging_collector = off']

const randomPasswords = () => {
  const names = ['superuser', 'app', 'auth', 'jobs', 'backup']
  return Object.fromEntries(names.map((name) => [name, randomBytes(18).toString('base64url')]))
}

const holderFileOf = (folder) => path.join(folder, 'holder.json')

/** What a run left behind that was killed outright. */
async function sweep() {
  for (const name of fs.readdirSync(os.tmpdir()).filter((each) => each.startsWith(PREFIX))) {
    const folder = path.join(os.tmpdir(), name)
    const found = fs.statSync(folder, { throwIfNoEntry: false }) // another run may just have ended
    const isOurs = found?.uid === os.userInfo().uid && fs.existsSync(holderFileOf(folder))
    if (isOurs && !readHolder(holderFileOf(folder))) await removeScratch(folder)
  }
}

async function removeScratch(folder) {
  const cluster = path.join(folder, 'postgres')
  if (fs.existsSync(cluster)) await stopCluster(describeCluster(cluster), 'immediate')
  fs.rmSync(folder, { recursive: true, force: true })
}

function makeFolder() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), PREFIX))
  fs.chmodSync(folder, 0o711) // whoever runs Postgres in root's stead has to get in
  const blocking = findBlockingFolder(choosePostgresUser(path.join(folder, 'postgres')), folder)
  if (blocking)
    throw new Refusal(`The user who runs PostgreSQL cannot enter ${blocking}. Set TMPDIR to another folder.`)
  return folder
}

/**
 * @returns {Promise<{adminUrl: string, passwords: object, remove: () => Promise<void>}>} `adminUrl` is the
 * superuser's, of the database `postgres`
 */
export async function startScratchCluster() {
  await sweep()
  const folder = makeFolder()
  const lock = takeLock(holderFileOf(folder))
  const passwords = randomPasswords()
  const cluster = describeCluster(path.join(folder, 'postgres'), FAST)
  const port = await startCluster(cluster, { password: passwords.superuser })
  const remove = async () => {
    lock.release()
    await removeScratch(folder)
  }
  return { adminUrl: embeddedUrl(port, passwords.superuser, 'postgres'), passwords, remove }
}

/** A migrated database that nobody may connect to any more, to be cloned. */
export async function makeTemplate({ adminUrl, passwords }) {
  await createDatabase(adminUrl, TEMPLATE)
  await prepareDatabase(urlOfDatabase(adminUrl, TEMPLATE), passwords)
  await withConnection(adminUrl, (client) =>
    client.query(`alter database ${TEMPLATE} with is_template true allow_connections false`),
  )
}

/** Runs the work on the owner's address of a migrated, empty database that is gone afterwards. */
export async function withMigratedScratch(work) {
  const cluster = await startScratchCluster()
  try {
    await createDatabase(cluster.adminUrl, 'migrated')
    const url = urlOfDatabase(cluster.adminUrl, 'migrated')
    await prepareDatabase(url, cluster.passwords)
    return await work(url)
  } finally {
    await cluster.remove()
  }
}
