import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { stockWorkspace } from './stock'

const database = requireDatabase()

let client: pg.Client
beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin })
  await client.connect()
  await stockWorkspace(client, 'Own')
  await stockWorkspace(client, 'Neighbour')
})
afterAll(() => client.end())

/** Runs a migration's statements as its runner does, as the owner in one transaction, and takes them back. */
async function fillIn(sql: string): Promise<{ notes: string[]; trails: number }> {
  await client.query('begin; set local role oothecary_owner')
  try {
    await client.query(sql)
    await client.query('reset role')
    const { rows } = await client.query<{ notes: string }>('select notes from clutch order by notes')
    const trails = await client.query(
      `select from audit_entry where table_name = 'clutch' and change = 'update' and after->>'notes' = 'filled in'`,
    )
    return { notes: rows.map(({ notes }) => notes), trails: trails.rowCount ?? 0 }
  } finally {
    await client.query('rollback')
  }
}

const FILLING = `update clutch set notes = 'filled in'`

describe('a migration that fills in records', () => {
  it('is stopped by row-level security, which holds the owner too, rather than filling in nothing', async () => {
    await expect(fillIn(FILLING)).rejects.toThrow(/workspace-missing/)
  })

  it('is stopped as well while the trail of what was changed cannot be written', async () => {
    const lifted = lift('clutch')
    await expect(fillIn(`${lifted.off}; ${FILLING}; ${lifted.on}`)).rejects.toThrow(/workspace-missing/)
  })

  it('reaches the records of every workspace, and writes its trail, when it lifts the force from both', async () => {
    const [records, trail] = [lift('clutch'), lift('audit_entry')]
    const filled = await fillIn(`${records.off}; ${trail.off}; ${FILLING}; ${records.on}; ${trail.on}`)
    expect(filled).toEqual({ notes: ['filled in', 'filled in'], trails: 2 })
  })
})

function lift(table: string): { off: string; on: string } {
  const say = (force: string) => `alter table ${table} ${force} row level security`
  return { off: say('no force'), on: say('force') }
}
