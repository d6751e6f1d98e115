// The installation that belongs to a data folder, as the commands beside `up` find it.
import fs from 'node:fs'
import { clusterFolderOf, findDataFolder, runningFileOf } from './data-folder.mjs'
import { describeCluster, isClusterRunning } from './database/cluster.mjs'
import { embeddedUrl } from './database/connection.mjs'
import { readPort } from './database/pid-file.mjs'
import { readHolder } from './process/lock.mjs'
import { Refusal } from './say.mjs'
import { readSecrets } from './secrets.mjs'
import { addressOf, loadEnvFile, readSettings } from './settings.mjs'

async function findEmbeddedUrl(dataFolder, secrets) {
  const folder = clusterFolderOf(dataFolder)
  if (!fs.existsSync(folder) || !(await isClusterRunning(describeCluster(folder)))) {
    throw new Refusal(`The database in ${dataFolder} is not running. Start it first: npm run up`)
  }
  return embeddedUrl(readPort(folder), secrets.passwords.superuser)
}

/** Needs the database to run; the web server may be down. */
export async function findInstance() {
  loadEnvFile()
  const settings = readSettings()
  const dataFolder = findDataFolder(settings)
  const secrets = readSecrets(dataFolder)
  const adminUrl = settings.databaseUrl ?? (await findEmbeddedUrl(dataFolder, secrets))
  const holder = readHolder(runningFileOf(dataFolder))
  const address = holder?.address ?? settings.publicAddress ?? addressOf(settings.host, settings.port)
  return { settings, dataFolder, secrets, adminUrl, address, isRunning: holder !== null }
}
