import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { type Stock, stockWorkspace } from './stock'

const database = requireDatabase()

let client: pg.Client
let own: Stock
beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Own')
})
afterAll(() => client.end())

const idOf = (table: string) => String(own.rows.get(table)?.id)

/** How the database refuses a stay, asked past row-level security and taken back; links are looked at last. */
async function refusalOf(table: string, values: Record<string, unknown>): Promise<string | undefined> {
  const row = { workspace_id: own.workspaceId, zone_id: idOf('zone'), ...values }
  const names = Object.keys(row)
  await client.query('begin')
  try {
    await client.query(`select set_config('app.workspace_id', $1, true)`, [own.workspaceId])
    await client.query(
      `insert into ${table} (${names}) values (${names.map((_, index) => `$${index + 1}`)})`,
      Object.values(row),
    )
    return undefined
  } catch (error) {
    if (error instanceof pg.DatabaseError) return error.message.split(':')[0]
    throw error
  } finally {
    await client.query('rollback')
  }
}

const animalIn = (container_id: unknown, more: Record<string, unknown> = {}) =>
  refusalOf('housing', {
    individual_id: randomUUID(),
    container_id,
    single: false,
    from_on: '2026-04-01',
    ...more,
  })
const clutchIn = (container_id: unknown, more: Record<string, unknown> = {}) =>
  refusalOf('clutch_housing', { clutch_id: randomUUID(), container_id, from_on: '2026-04-01', ...more })

describe('a container', () => {
  it('with siblings in it takes no single animal', async () => {
    const box = own.rows.get('clutch_housing')?.container_id
    expect(await animalIn(box)).toBe('container-of-a-clutch')
    expect(await animalIn(box, { from_on: '2026-01-01' })).toBe('container-of-a-clutch')
    expect(await animalIn(box, { from_on: '2026-01-01', until_on: '2026-02-20' })).not.toBe(
      'container-of-a-clutch',
    )
  })

  it('for one animal takes no siblings, and one with an animal in it neither', async () => {
    expect(await clutchIn(idOf('container'))).toBe('clutch-in-single')
    const box = await makeBox()
    await client.query(`select set_config('app.workspace_id', $1, false)`, [own.workspaceId])
    await client.query(
      `update housing set until_on = '2026-03-20' where workspace_id = $1 and individual_id = $2`,
      [own.workspaceId, idOf('individual')],
    )
    await client.query(
      `insert into housing (workspace_id, individual_id, container_id, single, zone_id, from_on)
       values ($1, $2, $3, false, $4, '2026-03-20')`,
      [own.workspaceId, idOf('individual'), box, idOf('zone')],
    )
    await client.query(`select set_config('app.workspace_id', '', false)`)
    expect(await clutchIn(box)).toBe('container-of-an-animal')
    expect(await animalIn(box)).toBe('container-of-another')
    // The same animal again in its own box, on other days, is nobody else.
    const again = { individual_id: idOf('individual'), from_on: '2026-02-01', until_on: '2026-02-20' }
    expect(await animalIn(box, again)).toBeUndefined()
  })

  it('is not taken by a stay of no day, as a move undone at once leaves behind', async () => {
    const box = own.rows.get('clutch_housing')?.container_id
    const nothing = { from_on: '2026-04-01', until_on: '2026-04-01' }
    expect(await animalIn(box, nothing)).not.toBe('container-of-a-clutch')
  })
})

async function makeBox(): Promise<string> {
  await client.query(`select set_config('app.workspace_id', $1, false)`, [own.workspaceId])
  const { rows } = await client.query(
    `insert into container (workspace_id, container_kind_id, single)
     select $1, id, false from container_kind where workspace_id = $1 and not single returning id`,
    [own.workspaceId],
  )
  await client.query(`select set_config('app.workspace_id', '', false)`)
  return rows[0].id
}
