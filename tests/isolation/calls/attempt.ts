import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { readRefusal } from '@/lib/platform/database-error'
import { mintScope } from '@/lib/platform/workspace'
import type { TestDatabase } from '@/tests/support/clone'
import { within } from '@/tests/support/workspaces'
import { type Stock, stockWorkspace } from '../stock'
import { CALLS, isWrite } from './all'
import { type Call, type Ids, watchIds } from './call'

type Outcome = { said: string; code?: undefined } | { said?: undefined; code: string }
type Pair = { client: pg.Client; own: Stock; neighbour: Stock }

class TakenBack extends Error {}

/** Runs a call in a transaction that is never kept, and tells what it said or how it was refused. */
async function attempt(pair: Pair, call: Call, ids: Ids): Promise<Outcome> {
  const { workspaceId, personId } = pair.own
  const scope = mintScope({ workspaceId, personId, role: 'owner' })
  let outcome: Outcome = { said: '' }
  const work = within(scope, async (tx, workspace) => {
    outcome = await observe(() => call(tx, { scope, workspace }, ids))
    if (outcome.code !== undefined) throw new TakenBack()
    const touched = await tx.$queryRawUnsafe<{ sum: string }[]>(FINGERPRINT(pair.neighbour))
    // Where row-level security holds, nothing of the neighbour can be seen from here at all.
    expect(['d41d8cd98f00b204e9800998ecf8427e', await fingerprintOf(pair)]).toContain(touched[0]?.sum)
    throw new TakenBack()
  })
  await work.catch((error: unknown) => {
    if (!(error instanceof TakenBack)) throw error
  })
  return outcome
}

/** Codes of Prisma and of the database. */
const OF_A_STATEMENT = /^(P\d{4}|[0-9A-Z]{5})$/

async function observe(run: () => Promise<unknown>): Promise<Outcome> {
  try {
    return { said: JSON.stringify(await run(), spreadMaps) ?? '' }
  } catch (error) {
    // A statement that is itself wrong is no refusal, whatever code it has.
    const refusal = readRefusal(error) ?? error
    if (!(refusal instanceof Error && 'code' in refusal) || OF_A_STATEMENT.test(String(refusal.code)))
      throw error
    return { code: String(refusal.code) }
  }
}

const spreadMaps = (_key: string, value: unknown) => (value instanceof Map ? [...value] : value)

const FINGERPRINT = ({
  workspaceId,
  rows,
}: Stock) => `select md5(coalesce(string_agg(line, '' order by line), '')) as sum
  from (${[...rows.keys()].map((table) => `select t::text as line from ${table} t where workspace_id = '${workspaceId}'`).join(' union all ')}) l`

async function fingerprintOf({ client, neighbour }: Pair): Promise<string> {
  return (await client.query(FINGERPRINT(neighbour))).rows[0].sum
}

/** The neighbour's mark, which stands in all of its texts, or an id of one of its records. */
function showsNeighbour({ neighbour }: Pair, said: string): boolean {
  const ids = [...neighbour.rows.values()].map(({ id }) => id).filter((id) => typeof id === 'string')
  return said.includes(neighbour.mark) || ids.some((id) => said.includes(id))
}

/** For the top of a test file: every function is called with its own ids, and with each of them a neighbour's. */
export function checkEveryCall(database: TestDatabase): void {
  const pair = {} as Pair
  beforeAll(async () => {
    pair.client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
    await pair.client.connect()
    pair.own = await stockWorkspace(pair.client, 'Own')
    pair.neighbour = await stockWorkspace(pair.client, 'Neighbour')
  })
  afterAll(() => pair.client.end())

  it.each(Object.entries(CALLS))('%s finds its own records', async (_name, call) => {
    const { said, code } = await attempt(pair, call, watchIds(pair.own).ids)
    expect(code).not.toBe('not-found')
    expect(showsNeighbour(pair, said ?? '')).toBe(false)
  })

  it.each(Object.entries(CALLS))('%s finds nothing of a neighbour', async (name, call) => {
    const { ids, asked } = watchIds(pair.own)
    await attempt(pair, call, ids)
    for (const key of asked) {
      const foreign = watchIds(pair.neighbour).ids[key]
      const found = await attempt(pair, call, watchIds(pair.own, { [key]: foreign }).ids)
      const stranger = key === 'label' ? 'ZZZZZ' : randomUUID()
      const unknown = await attempt(pair, call, watchIds(pair.own, { [key]: stranger }).ids)
      const said = tell(found, foreign)
      // A place in a list is not a record: what comes after it is the workspace's own all the same.
      if (key === 'auditEntry') expect(showsNeighbour(pair, said)).toBe(false)
      else expect([key, said.slice(0, 300)]).toEqual([key, tell(unknown, stranger).slice(0, 300)])
      // A list that is filtered by something unknown may be empty; a change is refused.
      if (isWrite(name)) expect(['not-found', 'invalid']).toContain(found.code)
    }
  })
}

/** What was asked for may be said back; made ids and times differ from one attempt to the next. */
function tell({ said, code }: Outcome, id: string): string {
  const plain = (said ?? '').replaceAll(id, 'that').replace(/"[0-9a-f]{8}-[0-9a-f-]{27}"/g, '"made"')
  return code ?? plain.replace(/\d{4}-\d\d-\d\dT[\d:.]+Z/g, 'then')
}
