import { execFile } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { promisify } from 'node:util'
import pg from 'pg'
import { createTestDatabase, type TestDatabase } from '@/tests/support/clone'
import { copyAnimals, copyWorkspace } from '@/tests/support/crowd'
import { median, runLoad } from '@/tests/support/load'
import { quantile, runOpenLoad, type Told } from '@/tests/support/open-load'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { makeToken } from '@/tests/support/workspaces'

/**
 * A service with many in it. Ratios within one run: the list of a workspace with 200,000 animals against that of one
 * with fifty, among a thousand others; the slowest answers of others while a neighbour imports and exports, or prints
 * while a backup is written; and what happens at twice the pace that can be served.
 */
const WORKSPACES = 1000
const ANIMALS = 50
const BIG = 200_000
const LOUD = 1000
const ROUNDS = 3
const SECONDS = 4

type Place = { server: TestServer; database: TestDatabase; small: Rack; big: Rack; neighbour: Rack }

const bearer = async (rack: Rack) => ({ authorization: `Bearer ${await makeToken(rack.owner, 'owner')}` })
const say = (what: string, figure: string) => console.log(`${what.padEnd(64)} ${figure}`)

async function stock(database: TestDatabase): Promise<Omit<Place, 'server' | 'database'>> {
  Object.assign(process.env, database.environment)
  const racks: Rack[] = []
  for (const [name, count] of [
    ['Small lane', ANIMALS],
    ['Big lane', ANIMALS],
    ['Loud lane', LOUD],
  ] as const) {
    const rack = await makeRack(name, 300_000)
    await makeNymphs(rack, { count, hatchedOn: rack.day(-60), partedOn: rack.day(-20), moults: 2 })
    racks.push(rack)
  }
  const [small, big, neighbour] = racks as [Rack, Rack, Rack]
  const client = new pg.Client({ connectionString: database.urls.admin })
  await client.connect()
  const began = performance.now()
  await copyWorkspace(client, small.owner.workspaceId, WORKSPACES)
  await copyAnimals(client, big.owner.workspaceId, BIG / ANIMALS - 1)
  const { rows } = await client.query(
    `select count(distinct workspace_id)::int as workspaces, count(*)::int as animals,
       count(*) filter (where workspace_id = $1)::int as biggest from individual`,
    [big.owner.workspaceId],
  )
  await client.end()
  const { workspaces, animals, biggest } = rows[0]
  const seconds = ((performance.now() - began) / 1000).toFixed(0)
  say(`${workspaces} workspaces with ${animals} animals, ${biggest} of them in one`, `made in ${seconds} s`)
  return { small, big, neighbour }
}

/** The same list of both, in turn, so that a noisy machine is noisy for both. */
async function compareLists({ server, small, big }: Place, query: (rack: Rack) => string): Promise<void> {
  const ratios: number[] = []
  const askList = async (rack: Rack, seconds: number) => {
    const url = `${server.address}/api/v1/individuals?${query(rack)}`
    return (await runLoad({ url, headers: await bearer(rack), connections: 2, seconds })).p50Ms
  }
  for (const rack of [small, big]) await askList(rack, 1)
  for (let round = 0; round < ROUNDS; round++) {
    const ofSmall = await askList(small, SECONDS)
    ratios.push((await askList(big, SECONDS)) / ofSmall)
  }
  const name = query({ ...small, zone: '…' })
  say(`list of the big workspace / of a small one, ${name} (≤ 2)`, median(ratios).toFixed(2))
}

type Noise = (place: Place) => Promise<() => Promise<void>>

/** Takes a copy of the whole workspace and brings it back as another one, over and over, until it is told to stop. */
async function copyOverAndOver({ server, neighbour }: Place): Promise<() => Promise<void>> {
  let isOver = false
  const headers = await bearer(neighbour)
  const copy = async () => {
    while (!isOver) {
      const taken = await fetch(`${server.address}/api/v1/export`, { headers })
      const body = await taken.arrayBuffer()
      copies += 1
      const place = `name=Copy&slug=copy-${copies}`
      const made = await fetch(`${server.address}/api/v1/import?${place}`, { method: 'POST', headers, body })
      if (made.status !== 201) throw new Error(`the copy was not taken back: ${await made.text()}`)
    }
  }
  const work = copy()
  return async () => {
    isOver = true
    await work
  }
}

let copies = 0

/** Prints sheets on four lines, and has a backup written over and over, until it is told to stop. */
async function printAndBackUp({ server, database, neighbour }: Place): Promise<() => Promise<void>> {
  let isOver = false
  const headers = await bearer(neighbour)
  const list = await fetch(`${server.address}/api/v1/individuals?limit=20`, { headers })
  const { items } = (await list.json()) as { items: { id: string }[] }
  const folder = mkdtempSync(path.join(tmpdir(), 'oothecary-bench-'))
  const print = async (line: number) => {
    for (let sheet = line; !isOver; sheet++) {
      const id = items[sheet % items.length]?.id
      const answer = await fetch(`${server.address}/api/v1/individuals/${id}/care-sheet.pdf`, { headers })
      await answer.arrayBuffer()
      if (answer.status === 429) await new Promise((resolve) => setTimeout(resolve, 500))
    }
  }
  const backUp = async () => {
    while (!isOver) await writeBackup(database, folder)
  }
  const work = [print(0), print(1), print(2), print(3), backUp()]
  return async () => {
    isOver = true
    await Promise.all(work)
    rmSync(folder, { recursive: true, force: true })
  }
}

/** By the command that does it, so that its work is done beside the service and not in here. */
async function writeBackup(database: TestDatabase, folder: string): Promise<void> {
  const runner = path.resolve('lib/ops/process/run-file.mjs')
  const args = [
    '--import',
    path.resolve('lib/platform/give-way.mjs'),
    '--import',
    'tsx',
    runner,
    path.resolve('lib/ops/backup.ts'),
    '--to',
    mkdtempSync(`${folder}/`),
  ]
  const own = { BACKUP_DATABASE_URL: database.urls.backup, DATA_DIR: folder, LINK_KEY: 'a bench' }
  await promisify(execFile)(process.execPath, args, { env: { ...process.env, ...own } })
}

async function compareNeighbour(place: Place, what: string, noise: Noise): Promise<void> {
  const url = `${place.server.address}/api/v1/individuals?limit=50`
  const ask = async () =>
    runLoad({ url, headers: await bearer(place.small), connections: 2, seconds: SECONDS })
  const ratios: number[] = []
  await ask()
  for (let round = 0; round < ROUNDS + 2; round++) {
    const quiet = await ask()
    const stop = await noise(place)
    const loud = await ask()
    await stop()
    ratios.push(loud.p99Ms / quiet.p99Ms)
  }
  say(`p99 beside ${what} / without (≤ 3)`, median(ratios).toFixed(2))
}

/** From the end of the burst until a second of answers is as quick as before. */
async function awaitRecovery(url: string, headers: Record<string, string>, usualMs: number): Promise<number> {
  const began = performance.now()
  for (;;) {
    const { p50Ms } = await runLoad({ url, headers, connections: 1, seconds: 0.5 }).catch(() => ({
      p50Ms: Number.POSITIVE_INFINITY,
    }))
    const seconds = (performance.now() - began) / 1000
    if (p50Ms <= usualMs * 1.5 || seconds > 60) return seconds
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

const tookOf = (told: Told[]) => told.map(({ tookMs }) => tookMs)

async function overrun({ server }: Place, usual: { url: string; headers: Record<string, string> }) {
  const capacity = await runLoad({ ...usual, connections: 16, seconds: SECONDS * 2 })
  const alone = await runLoad({ ...usual, connections: 1, seconds: SECONDS })
  const told = await runOpenLoad({ ...usual, perSecond: Math.max(capacity.perSecond * 2, 20), seconds: 20 })
  const recovery = await awaitRecovery(usual.url, usual.headers, alone.p50Ms)
  const served = told.filter(({ status }) => status === 200)
  const refused = told.filter(({ status }) => status === 503 || status === 429)
  const seconds = Math.max(...told.map(({ atMs, tookMs }) => atMs + tookMs)) / 1000
  say('can be served, a second', capacity.perSecond.toFixed(1))
  say(
    'served at twice that pace / what can be served',
    (served.length / seconds / capacity.perSecond).toFixed(2),
  )
  say('share told that it is too much', (refused.length / told.length).toFixed(2))
  say('neither served nor told', String(told.length - served.length - refused.length))
  say('p99 until told / p50 of one who is alone', (quantile(tookOf(refused), 0.99) / alone.p50Ms).toFixed(2))
  say('p99 until served, seconds', (quantile(tookOf(served), 0.99) / 1000).toFixed(2))
  say('until it is as quick as before, seconds (≤ 10)', recovery.toFixed(1))
  const health = await fetch(`${server.address}/api/health`)
  if (health.status !== 200) throw new Error(`afterwards it says ${health.status}`)
}

export async function run(): Promise<void> {
  const database = await createTestDatabase()
  try {
    const stocked = await stock(database)
    const server = await startServer(database)
    const place = { server, database, ...stocked }
    await compareLists(place, () => 'limit=50')
    await compareLists(place, ({ zone }) => `limit=50&zone=${zone}`)
    await compareNeighbour(place, 'a neighbour importing and exporting', copyOverAndOver)
    await compareNeighbour(place, 'a neighbour who prints and a backup', printAndBackUp)
    // A page that needs no token, which would be held to its own limit.
    await overrun(place, { url: `${server.address}/sign-in`, headers: {} })
    await server.stop()
  } catch (error) {
    console.error(error)
    throw error
  } finally {
    const { disconnect } = await import('@/lib/platform/db')
    const { disconnectAuth } = await import('@/lib/platform/auth-database')
    await disconnect()
    await disconnectAuth()
    await database.drop()
  }
}
