import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import pg from 'pg'
import { describeCluster, stopCluster } from '@/lib/ops/database/cluster.mjs'
import { embeddedUrl, roleUrls } from '@/lib/ops/database/connection.mjs'
import { readPort } from '@/lib/ops/database/pid-file.mjs'
import { addressOf, listChildren, startUp, type Up } from '@/tests/support/up'

/** One installation of the service, with what can be killed of it. */
export type House = { dataFolder: string; ups: Up[]; port?: string }

const clusterOf = ({ dataFolder }: House) => path.join(dataFolder, 'postgres')
const present = ({ ups }: House) => ups.at(-1) as Up
const secretsOf = ({ dataFolder }: House) =>
  JSON.parse(fs.readFileSync(path.join(dataFolder, 'secrets.json'), 'utf8'))

export const adminUrlOf = (house: House): string =>
  embeddedUrl(readPort(clusterOf(house)), secretsOf(house).passwords.superuser)

/** What the service's own code needs to be told, to prepare records in this process. */
export function settingsOf(house: House): Record<string, string> {
  const { passwords, authSecret, linkKey } = secretsOf(house)
  const urls = roleUrls(adminUrlOf(house), passwords)
  return {
    APP_DATABASE_URL: urls.app,
    AUTH_DATABASE_URL: urls.auth,
    JOBS_DATABASE_URL: urls.jobs,
    AUTH_SECRET: authSecret,
    LINK_KEY: linkKey,
    PUBLIC_ADDRESS: addressOf(present(house)),
  }
}

/** Starts it, on the same port as before, and waits until it says that it is ready. */
export async function open(house: House, more: Record<string, string> = {}): Promise<string> {
  const up = startUp(house.dataFolder, { ...(house.port ? { PORT: house.port } : {}), ...more })
  house.ups.push(up)
  await up.says('\nData: ')
  house.port = new URL(addressOf(up)).port
  return addressOf(up)
}

const VICTIMS = {
  'the web server': (house) => killChild(house, 'web.mjs'),
  'the jobs': (house) => killChild(house, 'jobs.ts'),
  'the database': (house) => stopDatabase(house),
  'the web server and the database': async (house) => {
    killChild(house, 'web.mjs')
    await stopDatabase(house)
  },
  'the service': (house) => killParent(house),
  everything: async (house) => {
    const postmaster = readPostmaster(house)
    killChild(house, 'web.mjs')
    killChild(house, 'jobs.ts')
    process.kill(postmaster, 'SIGKILL')
    await killParent(house)
  },
} satisfies Record<string, (house: House) => Promise<void> | void>

export type Victim = keyof typeof VICTIMS
export const LISTED_VICTIMS = Object.keys(VICTIMS) as Victim[]

/** Ends them as a power cut would: none is asked, none may finish anything. */
export const kill = async (house: House, victim: Victim): Promise<void> => VICTIMS[victim](house)

export const hasDatabase = (house: House): boolean =>
  fs.existsSync(path.join(clusterOf(house), 'postmaster.pid'))

export const readPostmaster = (house: House): number =>
  Number(fs.readFileSync(path.join(clusterOf(house), 'postmaster.pid'), 'utf8').split('\n')[0])

function killChild(house: House, program: string): void {
  const children = listChildren(present(house).child.pid ?? 0)
  const found = children.find((pid) => commandOf(pid).includes(program))
  if (found) process.kill(found, 'SIGKILL')
}

/** Nothing for one that is gone by now: `up` asks after its database with a program that ends at once. */
function commandOf(pid: number): string {
  try {
    if (process.platform === 'linux') return fs.readFileSync(`/proc/${pid}/cmdline`, 'utf8')
    return execFileSync('ps', ['-o', 'args=', '-p', String(pid)], { encoding: 'utf8' })
  } catch {
    return ''
  }
}

async function killParent(house: House): Promise<void> {
  present(house).child.kill('SIGKILL')
  await present(house).ended
}

export async function stopDatabase(house: House): Promise<void> {
  await stopCluster(describeCluster(clusterOf(house)), 'immediate')
}

const isReady = (address: string) =>
  fetch(`${address}/api/health`, { headers: { connection: 'close' } }).then(
    (response) => response.status === 200,
    () => false,
  )

/** Where its parent was killed it is started again, as its owner would; otherwise it mends itself. */
export async function comeBack(house: House): Promise<string> {
  const { child, ended, output } = present(house)
  if (child.signalCode === 'SIGKILL') return open(house)
  const address = addressOf(present(house))
  const giveUpAt = Date.now() + 60_000
  const isOver = ended.then(() => true)
  while (!(await isReady(address))) {
    const gone = await Promise.race([isOver, new Promise((resolve) => setTimeout(resolve, 100, false))])
    if (gone || Date.now() > giveUpAt) throw new Error(`it did not come back:\n${output()}`)
  }
  return address
}

/** Runs the work past every gate; first whatever a killed server had still under way has come to its end. */
export async function withSettledDatabase<T>(
  house: House,
  killedAt: Date,
  work: (client: pg.Client) => Promise<T>,
): Promise<T> {
  const client = new pg.Client({ connectionString: adminUrlOf(house), options: '-c TimeZone=UTC' })
  await client.connect()
  try {
    const left = `select from pg_stat_activity where usename = 'oothecary_app' and backend_start < $1 and xact_start is not null`
    while ((await client.query(left, [killedAt])).rowCount !== 0)
      await new Promise((resolve) => setTimeout(resolve, 50))
    return await work(client)
  } finally {
    await client.end()
  }
}
