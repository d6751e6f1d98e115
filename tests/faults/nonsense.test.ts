import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { seededStream } from '@/lib/domain/random/seeded'
import { SUMS_THAT_DIFFER } from '@/tests/support/bookkeeping'
import { requireDatabase } from '@/tests/support/database'
import { startServer, type TestServer } from '@/tests/support/server'
import { watchIds } from '../isolation/calls/call'
import { type Callers, makeCallers } from '../isolation/matrix/callers'
import { OPERATIONS } from '../isolation/matrix/operations'
import { type Stock, stockWorkspace } from '../isolation/stock'
import { spoil, spoilAddress } from './nonsense'

const database = requireDatabase()
const SEED = process.env.TEST_SEED ?? '1'
const CALLS = process.env.TEST_LONG ? 10_000 : 1_000
const AT_ONCE = 4

let client: pg.Client
let server: TestServer
let own: Stock
let neighbour: Stock
let callers: Callers

beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Own')
  neighbour = await stockWorkspace(client, 'Neighbour')
  callers = await makeCallers(client, { own, neighbour })
  server = await startServer(database)
})
afterAll(async () => {
  await server.stop()
  await client.end()
})

type Said = { call: string; status: number; text: string }

/** One call of the API with something wrong in its address or its body, by the owner. */
async function askNonsense(number: number): Promise<Said> {
  const stream = seededStream(`nonsense ${SEED} ${number}`)
  const { ids } = watchIds(own)
  const { method, path, address, body } = stream.pick(OPERATIONS)
  const asked = spoilAddress(address(ids), stream)
  const sent = body && JSON.stringify(spoil(body(ids), stream))
  const text = sent && stream.chance(0.03) ? sent.slice(0, -3) : sent
  const response = await fetch(`${server.address}/api/v1${asked}`, {
    method,
    headers: {
      authorization: `Bearer ${callers.owner.token}`,
      'content-type': 'application/json',
      ...(stream.chance(0.2) ? { 'idempotency-key': `nonsense-${stream.integer(0, 20)}` } : {}),
      ...(stream.chance(0.1) ? { 'if-match': stream.pick(['x', '"0"', '-1', '99999999999']) } : {}),
    },
    body: text,
  })
  const isFile = response.headers.get('content-type')?.includes('pdf')
  const call = `${number}: ${method} ${path} ${asked.slice(0, 120)} ${text?.slice(0, 300) ?? ''}`
  return { call, status: response.status, text: isFile ? '' : await response.text() }
}

/** A token may call 1,200 times a minute, which is not what is tried here. */
const forgetCalls = () => client.query(`delete from throttle where key like 'api-token%'`)

async function askAll(): Promise<Said[]> {
  const said: Said[] = []
  let next = 0
  const caller = async () => {
    while (next < CALLS) {
      const number = next++
      if (number % 500 === 0) await forgetCalls()
      said.push(await askNonsense(number))
    }
  }
  await Promise.all(Array.from({ length: AT_ONCE }, caller))
  return said
}

const fingerprintOf = async ({ rows, workspaceId }: Stock) => {
  const parts = [...rows.keys()].map(
    (table) =>
      `select md5(coalesce(string_agg(t::text, '' order by t::text), '')) from ${table} t where workspace_id = '${workspaceId}'`,
  )
  return JSON.stringify((await client.query(`${parts.join(' union all ')} order by 1`)).rows)
}

describe(`${CALLS} calls of the API that make no sense (seed ${SEED})`, () => {
  let said: Said[]
  let before: string
  beforeAll(async () => {
    before = await fingerprintOf(neighbour)
    said = await askAll()
  }, 1_800_000)

  it('are each answered, and never with an error of the service', () => {
    expect(said).toHaveLength(CALLS)
    expect(said.filter(({ status }) => status >= 500).slice(0, 5)).toEqual([])
    // The sample is worth something only when most of it is refused and some of it still makes sense.
    const refused = said.filter(({ status }) => status >= 400).length
    expect(refused).toBeGreaterThan(CALLS * 0.3)
    expect(refused).toBeLessThan(CALLS)
  })

  it('are refused in words, with the place of what is wrong, and without the inside of the service', () => {
    for (const { call, status, text } of said.filter(({ status }) => status >= 400)) {
      const problem = readJson(text)
      expect([call, problem.status, typeof problem.detail]).toEqual([call, status, 'string'])
      expect(text).not.toMatch(/select |insert into|prisma|node_modules|at \w+ \(/i)
    }
  })

  it('show and change nothing of a neighbour', async () => {
    expect(said.filter(({ text }) => text.includes(neighbour.mark))).toEqual([])
    expect(await fingerprintOf(neighbour)).toBe(before)
  })

  it('leave every head count with its sum', async () => {
    const { rows } = await client.query(SUMS_THAT_DIFFER)
    expect(rows).toEqual([])
  })
})

function readJson(text: string) {
  try {
    return JSON.parse(text)
  } catch {
    return { status: `no JSON: ${text.slice(0, 200)}` }
  }
}
