import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { type Row, type Stock, stockWorkspace } from './stock'

const database = requireDatabase()

let client: pg.Client
let own: Stock
beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Own')
})
afterAll(() => client.end())

/** What the service itself may do, taken back afterwards. */
async function beingTheApp<T>(work: () => Promise<T>): Promise<T> {
  await client.query('begin')
  try {
    await client.query(`select set_config('app.workspace_id', $1, true)`, [own.workspaceId])
    await client.query('set local role oothecary_app')
    return await work()
  } finally {
    await client.query('rollback')
  }
}

async function insert(table: string, values: Row): Promise<Row> {
  const row = { workspace_id: own.workspaceId, ...values }
  const names = Object.keys(row).map((name) => `"${name}"`)
  const slots = names.map((_, index) => `$${index + 1}`)
  const { rows } = await client.query(
    `insert into ${table} (${names}) values (${slots}) returning *`,
    Object.values(row),
  )
  return rows[0]
}

const idOf = (table: string) => own.rows.get(table)?.id
const entry = (values: Row) =>
  insert('head_count_entry', { clutch_id: idOf('clutch'), count: 1, on: '2026-04-01', ...values })

async function readCount(clutch: unknown): Promise<Row> {
  const { rows } = await client.query(
    'select hatched, together, single, sold, dead, escaped from head_count where clutch_id = $1',
    [clutch],
  )
  return rows[0]
}

async function readWhereabouts(): Promise<string> {
  const { rows } = await client.query('select whereabouts from individual where id = $1', [
    idOf('individual'),
  ])
  return rows[0].whereabouts
}

describe('the ledger', () => {
  it('opens a head count with each clutch, and moves it with each entry', async () => {
    await beingTheApp(async () => {
      const clutch = { label: 'C-new', species_id: idOf('species'), hatched_on: '2026-04-01' }
      const { id } = await insert('clutch', clutch)
      expect(await readCount(id)).toMatchObject({ hatched: 0, together: 0 })
      await entry({ clutch_id: id, from: 'uncounted', to: 'together', count: 30 })
      await entry({ clutch_id: id, from: 'together', to: 'dead', count: 4 })
      expect(await readCount(id)).toMatchObject({ hatched: 30, together: 26, dead: 4 })
    })
  })

  it('moves a named animal with its entry, once', async () => {
    await beingTheApp(async () => {
      const leaving = { individual_id: idOf('individual'), from: 'single', to: 'sold' }
      const before = await readCount(idOf('clutch'))
      await entry(leaving)
      expect(await readWhereabouts()).toBe('sold')
      expect(await readCount(idOf('clutch'))).toMatchObject({
        single: Number(before.single) - 1,
        sold: Number(before.sold) + 1,
      })
      await expect(entry(leaving)).rejects.toThrow(/^individual-elsewhere/)
    })
  })

  it('begins every animal where the ledger has it, whatever the record claims', async () => {
    await beingTheApp(async () => {
      const animal = {
        species_id: idOf('species'),
        whereabouts: 'sold',
        baseline_on: '2026-04-01',
        baseline_moults: 1,
      }
      expect(await insert('individual', { ...animal, label: 'X1', clutch_id: idOf('clutch') })).toMatchObject(
        {
          whereabouts: 'together',
        },
      )
      expect(await insert('individual', { ...animal, label: 'X2' })).toMatchObject({
        whereabouts: 'uncounted',
      })
    })
  })

  it('takes an entry back by its mirror image, once, and nothing else by that name', async () => {
    const leaving = { individual_id: idOf('individual'), from: 'single', to: 'escaped' }
    const back = { individual_id: idOf('individual'), from: 'escaped', to: 'single' }
    await beingTheApp(async () => {
      const { id } = await entry(leaving)
      await entry({ ...back, reverses: id })
      expect(await readWhereabouts()).toBe('single')
      await expect(entry({ ...back, reverses: id })).rejects.toMatchObject({
        constraint: 'head_count_entry_reversed_once',
      })
    })
    for (const other of [{ to: 'together' }, { individual_id: null }])
      await beingTheApp(async () => {
        const { id } = await entry(leaving)
        await expect(entry({ ...back, ...other, reverses: id })).rejects.toThrow(/^reversal-differs/)
      })
  })

  it('knows no animal of a clutch that is not its own', async () => {
    await beingTheApp(async () => {
      const { id } = await insert('clutch', {
        label: 'C-new',
        species_id: idOf('species'),
        hatched_on: '2026-04-01',
      })
      await entry({ clutch_id: id, from: 'uncounted', to: 'together', count: 3 })
      const stray = { clutch_id: id, individual_id: idOf('individual'), from: 'single', to: 'dead' }
      await expect(entry(stray)).rejects.toThrow(/^individual-elsewhere/)
    })
  })

  it('cannot be gone round: neither the count nor the whereabouts can be written, no entry changed or erased', async () => {
    for (const sql of [
      'update head_count set together = 0',
      `insert into head_count (workspace_id, clutch_id) values ('${own.workspaceId}', '${randomUUID()}')`,
      `update individual set whereabouts = 'single'`,
      'update head_count_entry set count = 2',
      'delete from head_count_entry',
    ])
      await beingTheApp(() => expect(client.query(sql), sql).rejects.toMatchObject({ code: '42501' }))
  })
})
