import { readFileSync } from 'node:fs'
import { createTestDatabase } from '@/tests/support/clone'
import { median } from '@/tests/support/load'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { makeToken } from '@/tests/support/workspaces'

/**
 * What the server holds in memory after some minutes of mixed work, against what it held after the warm-up. Ten
 * minutes with TEST_LONG=1, two without.
 */
const MINUTES = process.env.TEST_LONG ? 10 : 2
const WARM_UP_MINUTES = process.env.TEST_LONG ? 3 : 1
const LINES = 4
const LOOK_MS = 2000
const COMPARED_MS = 40_000

type Till = { server: TestServer; rack: Rack; nymphs: Nymph[]; token: string }

/** Reads, writes, a page and a PDF, over and over, as a shop has them in the course of a year. */
async function work({ server, rack, nymphs, token }: Till, isOver: () => boolean): Promise<number> {
  let asked = 0
  const ask = async (path: string, body?: unknown) => {
    const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/json' }
    const sent = body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }
    const answer = await fetch(`${server.address}${path}`, { headers, ...sent })
    await answer.arrayBuffer()
    if (answer.status >= 500) throw new Error(`${path} answered ${answer.status}`)
    if (answer.status === 429) await new Promise((resolve) => setTimeout(resolve, 1000))
    asked += 1
  }
  for (let turn = 0; !isOver(); turn++) {
    const { id } = nymphs[turn % nymphs.length] as Nymph
    await ask('/api/v1/individuals?limit=50')
    await ask(`/api/v1/individuals/${id}`)
    await ask('/api/v1/looks', { on: rack.day(-(turn % 30)), individuals: [id] })
    await ask(`/api/v1/individuals/${id}/forecast`)
    await ask('/sign-in')
    if (turn % 10 === 0) await ask(`/api/v1/individuals/${id}/care-sheet.pdf`)
    if (turn % 10 === 5) await ask('/api/v1/today')
  }
  return asked
}

/** Megabytes of the server's own that are in memory now, as the system counts them. */
function readMegabytes(pid: number): number {
  const [, kilobytes] = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? []
  return Number(kilobytes) / 1024
}

type Seen = { atMs: number; megabytes: number }

async function watch(server: TestServer): Promise<Seen[]> {
  const seen: Seen[] = []
  const began = performance.now()
  const lastMs = (WARM_UP_MINUTES + MINUTES) * 60_000
  for (let atMs = 0; atMs < lastMs; atMs = performance.now() - began) {
    seen.push({ atMs, megabytes: readMegabytes(server.pid) })
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS))
  }
  return seen
}

function report(seen: Seen[], asked: number): void {
  const from = WARM_UP_MINUTES * 60_000
  const end = seen.at(-1)?.atMs ?? 0
  const between = (first: number, last: number) =>
    median(seen.filter(({ atMs }) => atMs >= first && atMs <= last).map(({ megabytes }) => megabytes))
  const [before, after] = [between(from, from + COMPARED_MS), between(end - COMPARED_MS, end)]
  console.log(
    `${asked} requests in ${(end / 60_000).toFixed(0)} minutes, the first ${WARM_UP_MINUTES} to warm up`,
  )
  console.log(`memory after the warm-up ${before.toFixed(0)} MB, at the end ${after.toFixed(0)} MB`)
  console.log(`ratio, ${MINUTES} minutes apart (≤ 1.05): ${(after / before).toFixed(3)}`)
}

export async function run(): Promise<void> {
  if (process.platform !== 'linux') return console.log('measured on Linux only')
  const database = await createTestDatabase()
  Object.assign(process.env, database.environment)
  const { disconnect } = await import('@/lib/platform/db')
  const { disconnectAuth } = await import('@/lib/platform/auth-database')
  try {
    const rack = await makeRack('Long lane')
    const brood = { count: 60, hatchedOn: rack.day(-60), partedOn: rack.day(-40), moults: 2 }
    const nymphs = await makeNymphs(rack, brood)
    const tokens: string[] = []
    for (let line = 0; line < LINES; line++) tokens.push(await makeToken(rack.owner, 'owner'))
    await disconnect()
    await disconnectAuth()
    const server = await startServer(database)
    let isOver = false
    const lines = tokens.map((token) => work({ server, rack, nymphs, token }, () => isOver))
    const seen = await watch(server)
    isOver = true
    const asked = await Promise.all(lines)
    report(
      seen,
      asked.reduce((sum, each) => sum + each, 0),
    )
    await server.stop()
  } catch (error) {
    console.error(error)
    throw error
  } finally {
    await database.drop()
  }
}
