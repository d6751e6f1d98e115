// One PostgreSQL cluster, run with the package's own initdb and pg_ctl: the package's class would stop the
// database in an exit hook while requests are still being answered.
import fs from 'node:fs'
import path from 'node:path'
import process from 'node:process'
import { CommandFailed, runProgram } from '../process/command.mjs'
import { findFreePort, tryPort } from '../process/ports.mjs'
import { Refusal } from '../say.mjs'
import { findNative } from './native.mjs'
import { dropMisleadingPidFile, namesAnotherProcess, readPort } from './pid-file.mjs'
import { asUser, choosePostgresUser } from './postgres-user.mjs'

const MAJOR_VERSION = '18'
export const SUPERUSER = 'oothecary_admin'

/** Messages are parsed, so they have to be English; PG* variables of the shell must not steer the server. */
function cleanEnvironment() {
  const kept = Object.entries(process.env).filter(([name]) => !/^(PG|LC_|LANG)/.test(name))
  return { ...Object.fromEntries(kept), LC_ALL: 'C', TZ: 'UTC' }
}

/** @param {string} folder the cluster's data directory @param {string[]} [extraSettings] lines of configuration */
export function describeCluster(folder, extraSettings = []) {
  const user = choosePostgresUser(folder)
  return { folder, user, native: findNative(user), extraSettings }
}

function runTool(cluster, tool, args) {
  const options = { name: tool, isKept: true, env: cleanEnvironment(), ...asUser(cluster.user) }
  return runProgram(path.join(cluster.native, 'bin', tool), args, options)
}

const settings = [
  "listen_addresses = '127.0.0.1'",
  "unix_socket_directories = ''",
  'max_connections = 80',
  'logging_collector = on',
  "log_filename = 'postgresql-%a.log'", // a week of logs, each day over that of the week before
  'log_truncate_on_rotation = on',
  'log_rotation_size = 0',
  "log_timezone = 'UTC'",
  "timezone = 'UTC'",
]

/** Made under another name and then renamed: a start that was interrupted leaves no half cluster behind. */
async function makeCluster(cluster, password) {
  const draft = `${cluster.folder}.new`
  const passwordFile = `${cluster.folder}.password`
  // Tools of a start that was killed may still be writing there for a moment.
  fs.rmSync(draft, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 })
  fs.mkdirSync(draft, { mode: 0o700 })
  fs.rmSync(passwordFile, { force: true })
  fs.writeFileSync(passwordFile, password, { mode: 0o600, flag: 'wx' })
  if (cluster.user)
    for (const made of [draft, passwordFile]) fs.chownSync(made, cluster.user.uid, cluster.user.gid)
  try {
    await runTool(cluster, 'initdb', initArguments(draft, passwordFile))
  } finally {
    fs.rmSync(passwordFile, { force: true })
  }
  const lines = ['', '# Oothecary', ...settings, ...cluster.extraSettings, '']
  fs.appendFileSync(path.join(draft, 'postgresql.conf'), lines.join('\n'))
  fs.renameSync(draft, cluster.folder)
}

/** The locale is Postgres's own, so that text sorts alike on every machine and after every system upgrade. */
const initArguments = (folder, passwordFile) => [
  `--pgdata=${folder}`,
  `--username=${SUPERUSER}`,
  `--pwfile=${passwordFile}`,
  '--auth=scram-sha-256',
  '--data-checksums',
  '--encoding=UTF8',
  '--locale=C',
  '--locale-provider=builtin',
  '--builtin-locale=C.UTF-8',
]

function checkVersion(cluster) {
  const file = path.join(cluster.folder, 'PG_VERSION')
  if (!fs.existsSync(file))
    throw new Refusal(
      `${cluster.folder} is there but holds no PostgreSQL database. Nothing in it was touched; set DATA_DIR to another folder.`,
    )
  const version = fs.readFileSync(file, 'utf8').trim()
  if (version === MAJOR_VERSION) return
  throw new Refusal(
    `${cluster.folder} was made by PostgreSQL ${version}; this version of Oothecary runs PostgreSQL ${MAJOR_VERSION}. Nothing in it was touched. Run the version that made it, take a backup there (npm run backup) and restore it here.`,
  )
}

export async function isClusterRunning(cluster) {
  if (namesAnotherProcess(cluster.folder)) return false
  try {
    await runTool(cluster, 'pg_ctl', ['status', '-D', cluster.folder])
    return true
  } catch (error) {
    if (error instanceof CommandFailed) return false
    throw error
  }
}

async function startOn(cluster, port) {
  const log = path.join(cluster.folder, 'start.log')
  const args = ['start', '-w', '-t', '120', '-D', cluster.folder, '-l', log, '-o', `-p ${port}`]
  try {
    await runTool(cluster, 'pg_ctl', args)
  } catch (error) {
    if (!(error instanceof CommandFailed)) throw error
    const said = fs.existsSync(log) ? fs.readFileSync(log, 'utf8').split('\n').slice(-25).join('\n') : ''
    throw new CommandFailed('PostgreSQL', 'an error', `${error.output}\n${said}`)
  }
}

const choosePort = async (wanted) =>
  wanted && (await tryPort('127.0.0.1', wanted)) === 'free' ? wanted : findFreePort()

/** Makes the cluster when there is none, attaches when it runs already, else starts it. Returns its port. */
export async function startCluster(cluster, { password, wantedPort }) {
  if (!fs.existsSync(cluster.folder)) await makeCluster(cluster, password)
  checkVersion(cluster)
  await dropMisleadingPidFile(cluster.folder)
  if (await isClusterRunning(cluster)) return readPort(cluster.folder)
  for (let attempt = 0; ; attempt += 1) {
    const port = await choosePort(attempt === 0 ? wantedPort : null)
    try {
      await startOn(cluster, port)
      return port
    } catch (error) {
      if (attempt === 2 || !/Address already in use/.test(error.output ?? '')) throw error
    }
  }
}

export async function stopCluster(cluster, mode = 'fast') {
  if (!fs.existsSync(cluster.folder) || !(await isClusterRunning(cluster))) return
  await runTool(cluster, 'pg_ctl', ['stop', '-w', '-t', '60', '-m', mode, '-D', cluster.folder])
}
