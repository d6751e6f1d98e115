import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { seededStream } from '@/lib/domain/random/seeded'
import { AppError } from '@/lib/platform/errors'
import { runOnce } from '@/lib/platform/operation'
import { mintScope } from '@/lib/platform/workspace'
import { requireDatabase } from '@/tests/support/database'
import { watchStatements } from '@/tests/support/failing-statement'
import { ALL_WRITES } from '../isolation/calls/all'
import { type Call, type Ids, watchIds } from '../isolation/calls/call'
import { type Stock, stockWorkspace } from '../isolation/stock'

const database = requireDatabase()
const SEED = process.env.TEST_SEED ?? '1'
const named = Object.entries(ALL_WRITES)
/** Every change in a long run, a dozen drawn from the seed in a short one. */
const chosen = process.env.TEST_LONG ? named : seededStream(`statements ${SEED}`).shuffle(named).slice(0, 12)

let client: pg.Client
let own: Stock
let ids: Ids

beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Own')
  ids = watchIds(own).ids
})
afterAll(() => client.end())

class TakenBack extends Error {}

/** The change as an action or a call of the API makes it: with its key, in one transaction. */
function make(call: Call, after: () => void = () => {}): Promise<unknown> {
  const scope = mintScope({ workspaceId: own.workspaceId, personId: own.personId, role: 'owner' })
  return runOnce(scope, { key: `fault:${randomUUID()}`, content: null }, async (tx, workspace) => {
    await call(tx, { scope, workspace }, ids)
    after()
    return null
  })
}

/** How many statements the change needs, found by making it and taking it back. */
async function countStatements(call: Call): Promise<number> {
  const count = watchStatements()
  try {
    await make(call, () => {
      throw new TakenBack()
    })
  } catch (error) {
    // Some are refused by the trade with these records; what they asked until then counts all the same.
    if (!(error instanceof TakenBack || error instanceof AppError)) throw error
  } finally {
    count.stop()
  }
  return count.sent
}

async function fingerprint(): Promise<string> {
  const tables = [...own.rows.keys(), 'operation', 'head_count', 'audit_entry']
  const parts = tables.map(
    (table) =>
      `select '${table}' as name, md5(coalesce(string_agg(t::text, '' order by t::text), '')) from ${table} t`,
  )
  return JSON.stringify((await client.query(`${parts.join(' union all ')} order by 1`)).rows)
}

describe(`a change of which one statement fails in the database (seed ${SEED})`, () => {
  it.each(chosen)('%s is told to have failed, and leaves nothing behind', async (_name, call) => {
    const statements = await countStatements(call)
    expect(statements).toBeGreaterThan(1)
    const before = await fingerprint()
    for (let failing = 1; failing <= statements; failing++) {
      const count = watchStatements(failing)
      const outcome = await make(call).then(
        () => 'said to be done',
        () => 'failed',
      )
      count.stop()
      expect([failing, outcome]).toEqual([failing, 'failed'])
    }
    expect(await fingerprint()).toBe(before)
  })
})
