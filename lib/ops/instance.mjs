// The installation that belongs to a data folder, as the commands beside `up` find it.
import fs from 'node:fs'
import process from 'node:process'
import { claimDataFolder, clusterFolderOf, findDataFolder, readFacts, runningFileOf } from './data-folder.mjs'
import { describeCluster, isClusterRunning, startCluster, stopCluster } from './database/cluster.mjs'
import { embeddedUrl } from './database/connection.mjs'
import { readPort } from './database/pid-file.mjs'
import { readHolder, takeLock } from './process/lock.mjs'
import { Refusal } from './say.mjs'
import { loadOrMakeSecrets, readSecrets } from './secrets.mjs'
import { addressOf, loadEnvFile, readSettings } from './settings.mjs'

/** For the time of one command, the database of an `up` that is not running. */
async function startForCommand(cluster, { dataFolder, password }) {
  const lock = takeLock(runningFileOf(dataFolder))
  if (lock.holder)
    throw new Refusal(`Oothecary is just starting (process ${lock.holder.pid}). Try again once it runs.`)
  lock.update({ state: 'command' })
  const close = async () => {
    await stopCluster(cluster)
    lock.release()
  }
  try {
    const port = await startCluster(cluster, { password, wantedPort: readFacts(dataFolder).databasePort })
    return { port, close }
  } catch (error) {
    await close()
    throw error
  }
}

async function openEmbedded(dataFolder, secrets) {
  const password = secrets.passwords.superuser
  const folder = clusterFolderOf(dataFolder)
  if (!fs.existsSync(folder))
    throw new Refusal(`There is no database in ${dataFolder} yet. Start Oothecary once first: npm run up`)
  const cluster = describeCluster(folder)
  if (await isClusterRunning(cluster))
    return { adminUrl: embeddedUrl(readPort(folder), password), close: async () => {} }
  const { port, close } = await startForCommand(cluster, { dataFolder, password })
  return { adminUrl: embeddedUrl(port, password), close }
}

/** A server of one's own may be migrated before anything was ever started on this machine. */
function makeSecrets(dataFolder, settings) {
  if (settings.databaseUrl === null) return
  claimDataFolder(dataFolder)
  loadOrMakeSecrets(dataFolder, false)
}

/** Runs the work with the installation of DATA_DIR, whether `up` is running or not. */
export async function withInstance(work, { isFirst = false } = {}) {
  loadEnvFile()
  const settings = readSettings()
  const dataFolder = findDataFolder(settings)
  if (isFirst) makeSecrets(dataFolder, settings)
  const secrets = readSecrets(dataFolder)
  const holder = readHolder(runningFileOf(dataFolder))
  const address = holder?.address ?? settings.publicAddress ?? addressOf(settings.host, settings.port)
  const given = settings.databaseUrl && { adminUrl: settings.databaseUrl, close: async () => {} }
  const { adminUrl, close } = given ?? (await openEmbedded(dataFolder, secrets))
  const keepGoing = () => {} // the command gets the signal too and ends first; the database is stopped after it
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, keepGoing)
  try {
    return await work({
      settings,
      dataFolder,
      secrets,
      adminUrl,
      address,
      isServing: Boolean(holder?.address),
    })
  } finally {
    await close()
  }
}
