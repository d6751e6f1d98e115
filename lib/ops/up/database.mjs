// The database of `up`: embedded or given, prepared, and filled with the demo on the first start.

import fs from 'node:fs'
import process from 'node:process'
import { clusterFolderOf, readFacts, writeFact } from '../data-folder.mjs'
import { describeCluster, startCluster, stopCluster } from '../database/cluster.mjs'
import { DATABASE, embeddedUrl } from '../database/connection.mjs'
import { ensureDatabase, prepareDatabase } from '../database/prepare.mjs'
import { commandEnvironment } from '../environment.mjs'
import { inProject } from '../place.mjs'
import { runProgram } from '../process/command.mjs'
import { Refusal, say, step } from '../say.mjs'
import { loadOrMakeSecrets } from '../secrets.mjs'
import { addressOf } from '../settings.mjs'
import { watchCluster } from './watch.mjs'

async function openEmbedded({ dataFolder }, secrets, stopper) {
  const cluster = describeCluster(clusterFolderOf(dataFolder))
  const password = secrets.passwords.superuser
  stopper.onStop(() => stopCluster(cluster))
  const port = await startCluster(cluster, { password, wantedPort: readFacts(dataFolder).databasePort })
  writeFact(dataFolder, { databasePort: port })
  stopper.onStop(watchCluster(cluster, { password, port }, stopper))
  const adminUrl = embeddedUrl(port, password)
  await ensureDatabase(adminUrl, DATABASE)
  return adminUrl
}

const CONNECTION_TROUBLES = {
  ECONNREFUSED: 'nothing answers at its address',
  ENOTFOUND: 'its host is unknown',
  ETIMEDOUT: 'it does not answer in time',
  '28P01': 'the password is wrong',
  28000: 'the user is refused',
  '3D000': 'the database does not exist; create it first',
}

async function prepare(adminUrl, secrets) {
  try {
    return await prepareDatabase(adminUrl, secrets.passwords)
  } catch (error) {
    const trouble = CONNECTION_TROUBLES[error.code]
    if (!trouble) throw error
    throw new Refusal(`The database server cannot be used: ${trouble} (${error.message}).`)
  }
}

function reportPrepared({ applied, kept }) {
  if (applied.length > 0) say(`  ${applied.length} migrations applied`)
  if (kept.length > 0) say(`  Backups have to wait until a superuser has run:\n    ${kept.join('\n    ')}`)
}

/** Once per data folder; the seed itself leaves a database alone in which there is a workspace already. */
async function seedOnce(instance) {
  const { dataFolder, settings } = instance
  if (!settings.hasDemo || readFacts(dataFolder).isSeeded) return
  const runner = inProject('lib/ops/process/run-file.mjs')
  const args = ['--import', 'tsx', runner, inProject('lib/ops/seed.ts'), '--if-empty']
  const options = { name: 'the demo', env: commandEnvironment(instance) }
  await step('filling the demo workspaces', () => runProgram(process.execPath, args, options))
  writeFact(dataFolder, { isSeeded: true })
}

const hasDatabase = ({ settings, dataFolder }) =>
  settings.databaseUrl === null && fs.existsSync(clusterFolderOf(dataFolder))

/** @returns the installation: settings, secrets, addresses */
export async function openDatabase(own, stopper) {
  const { settings, dataFolder } = own
  const secrets = loadOrMakeSecrets(dataFolder, hasDatabase(own))
  const adminUrl =
    settings.databaseUrl ?? (await step('starting the database', () => openEmbedded(own, secrets, stopper)))
  reportPrepared(await step('preparing the database', () => prepare(adminUrl, secrets)))
  const address =
    settings.publicAddress ??
    addressOf(settings.host === '0.0.0.0' ? '127.0.0.1' : settings.host, settings.port)
  const instance = { ...own, secrets, adminUrl, address }
  await seedOnce(instance)
  return instance
}
