// The database of `up`: embedded or given, prepared, and filled with the demo on the first start.
import fs from 'node:fs'
import { clusterFolderOf, readFacts, writeFact } from '../data-folder.mjs'
import { describeCluster, startCluster, stopCluster } from '../database/cluster.mjs'
import { DATABASE, embeddedUrl } from '../database/connection.mjs'
import {
  createDatabase,
  dropDatabase,
  hasDatabase,
  prepareDatabase,
  renameDatabases,
} from '../database/prepare.mjs'
import { commandEnvironment } from '../environment.mjs'
import { inProject } from '../place.mjs'
import { runDependent } from '../process/command.mjs'
import { Refusal, say, step } from '../say.mjs'
import { loadOrMakeSecrets } from '../secrets.mjs'
import { addressOf } from '../settings.mjs'
import { watchCluster } from './watch.mjs'

/** Where the first start works until everything is in place. */
const UNFINISHED = 'oothecary_unfinished'

async function startEmbedded({ dataFolder }, secrets, stopper) {
  const cluster = describeCluster(clusterFolderOf(dataFolder))
  const password = secrets.passwords.superuser
  stopper.onStop(() => stopCluster(cluster))
  const port = await startCluster(cluster, { password, wantedPort: readFacts(dataFolder).databasePort })
  writeFact(dataFolder, { databasePort: port })
  stopper.onStop(watchCluster(cluster, { password, port }, stopper))
  return embeddedUrl(port, password)
}

const CONNECTION_TROUBLES = {
  ECONNREFUSED: 'nothing answers at its address',
  ENOTFOUND: 'its host is unknown',
  ETIMEDOUT: 'it does not answer in time',
  '28P01': 'the password is wrong',
  28000: 'the user is refused',
  '3D000': 'the database does not exist; create it first',
}

async function prepare(adminUrl, { passwords }) {
  try {
    const { applied, kept } = await step('preparing the database', () => prepareDatabase(adminUrl, passwords))
    if (applied.length > 0) say(`  ${applied.length} migrations applied`)
    if (kept.length > 0) say(`  Backups have to wait until a superuser has run:\n    ${kept.join('\n    ')}`)
  } catch (error) {
    const trouble = CONNECTION_TROUBLES[error.code]
    if (!trouble) throw error
    throw new Refusal(`The database server cannot be used: ${trouble} (${error.message}).`)
  }
}

function seed(instance) {
  const runner = inProject('lib/ops/process/run-file.mjs')
  const args = ['--import', 'tsx', runner, inProject('lib/ops/seed.ts'), '--if-empty']
  const options = { name: 'the demo', env: commandEnvironment(instance) }
  return step('filling the demo workspaces', () => runDependent(args, options))
}

/** Made under another name and renamed at the end, so that a start that dies half-way leaves no half demo. */
async function makeEmbedded(instance) {
  const { adminUrl, secrets, settings } = instance
  const unfinished = embeddedUrl(new URL(adminUrl).port, secrets.passwords.superuser, UNFINISHED)
  await dropDatabase(adminUrl, UNFINISHED)
  await createDatabase(adminUrl, UNFINISHED)
  await prepare(unfinished, secrets)
  if (settings.hasDemo) await seed({ ...instance, adminUrl: unfinished })
  await renameDatabases(adminUrl, [{ from: UNFINISHED, to: DATABASE }])
}

/** A server of one's own gets the demo once per data folder, and only while it holds no workspace. */
async function seedGiven(instance) {
  const { dataFolder, settings } = instance
  const { demo } = readFacts(dataFolder)
  if (!settings.hasDemo || demo === 'done') return
  if (demo === 'begun') {
    throw new Refusal(
      'The first start was interrupted while it filled the demo, so the database of DATABASE_URL holds half of one. Give it an empty database, or set DEMO=off to keep this one as it is.',
    )
  }
  writeFact(dataFolder, { demo: 'begun' })
  await seed(instance)
  writeFact(dataFolder, { demo: 'done' })
}

async function fill(instance) {
  const { settings, secrets, adminUrl } = instance
  if (settings.databaseUrl === null && !(await hasDatabase(adminUrl, DATABASE))) return makeEmbedded(instance)
  await prepare(adminUrl, secrets)
  if (settings.databaseUrl !== null) await seedGiven(instance)
}

const hasCluster = ({ settings, dataFolder }) =>
  settings.databaseUrl === null && fs.existsSync(clusterFolderOf(dataFolder))

/** @returns the installation: settings, secrets, addresses */
export async function openDatabase(own, stopper) {
  const { settings, dataFolder } = own
  const secrets = loadOrMakeSecrets(dataFolder, hasCluster(own))
  const adminUrl =
    settings.databaseUrl ?? (await step('starting the database', () => startEmbedded(own, secrets, stopper)))
  const shownHost = settings.host === '0.0.0.0' ? '127.0.0.1' : settings.host
  const address = settings.publicAddress ?? addressOf(shownHost, settings.port)
  const instance = { ...own, secrets, adminUrl, address }
  await fill(instance)
  return instance
}
