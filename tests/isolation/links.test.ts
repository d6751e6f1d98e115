import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { type Row, type Stock, stockWorkspace } from './stock'

const database = requireDatabase()

type Link = { name: string; table: string; target: string; columns: string[]; targets: string[] }

let client: pg.Client
let own: Stock
let neighbour: Stock

beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Own')
  neighbour = await stockWorkspace(client, 'Neighbour')
})
afterAll(() => client.end())

async function listLinks(): Promise<Link[]> {
  const { rows } = await client.query<Link>(`
    select k.conname as name, k.conrelid::regclass::text as table, k.confrelid::regclass::text as target,
      array(select a.attname::text from unnest(k.conkey) with ordinality n(num, i)
        join pg_attribute a on a.attrelid = k.conrelid and a.attnum = n.num order by n.i) as columns,
      array(select a.attname::text from unnest(k.confkey) with ordinality n(num, i)
        join pg_attribute a on a.attrelid = k.confrelid and a.attnum = n.num order by n.i) as targets
    from pg_constraint k where k.contype = 'f' and k.connamespace = 'public'::regnamespace order by 1`)
  return rows
}

/** A part of a box that is not there: its box is asked for first. */
const ASKED_FIRST: Record<string, string> = {
  order_payment_reversed_fkey: 'order_payment_order_fkey',
  show_box_animal_part_fkey: 'show_box_animal_box_fkey',
  show_box_item_part_fkey: 'show_box_item_box_fkey',
}

/** The same record again under keys of its own: nothing stands in its way but the link that is asked about. */
async function makeFresh(table: string, row: Row): Promise<Row> {
  const { rows } = await client.query<{ name: string; type: string }>(
    `select distinct a.attname::text as name, a.atttypid::regtype::text as type
     from pg_index i join pg_attribute a on a.attrelid = i.indrelid and a.attnum = any(i.indkey::int2[])
       join pg_type t on t.oid = a.atttypid
     where i.indrelid = $1::regclass and (i.indisunique or i.indisexclusion) and a.attname <> 'workspace_id'
       and t.typtype <> 'e'`,
    [table],
  )
  const linked = new Set(
    (await listLinks()).filter((l) => l.table === table).flatMap(({ columns }) => columns),
  )
  const fresh = { ...row }
  for (const { name, type } of rows) {
    const isFree = !linked.has(name) && row[name] !== null && type !== 'boolean'
    if (isFree) fresh[name] = freshValue(type)
  }
  // A series is a few capitals, a box has nine parts, and an animal is offered once with one offer.
  if ('series' in row) fresh.series = randomUUID().slice(0, 8).toUpperCase()
  if (table === 'show_box_part') fresh.number = 9
  if (table === 'hand_over_animal') fresh.individual_id = own.gone
  if (table === 'show_box_animal') Object.assign(fresh, { end: 'home', end_on: '2026-03-21' })
  // Rules against overlaps look at the days.
  if ('from_on' in row)
    Object.assign(fresh, { from_on: '1990-01-01' }, 'until_on' in row && { until_on: '1990-01-02' })
  if ('began_at' in row)
    Object.assign(fresh, { began_at: '1990-01-01T00:00:00Z', ended_at: '1990-01-01T01:00:00Z' })
  return fresh
}

function freshValue(type: string): unknown {
  const text = randomUUID()
  if (type === 'uuid') return text
  if (type === 'bytea') return Buffer.from(text)
  if (type === 'integer') return Number.parseInt(text.slice(0, 6), 16) + 1
  if (type.startsWith('timestamp')) return '1990-01-01T00:00:00Z'
  return type === 'date' ? '1990-01-01' : text
}

/** What the database says to an insert, as the service or, where that may not, as the owner, whom the policy holds too. */
async function tryInsert(table: string, row: Row): Promise<string> {
  const may = await client.query(`select has_table_privilege('oothecary_app', $1, 'INSERT') as insert`, [
    table,
  ])
  await client.query('begin')
  try {
    await client.query(`select set_config('app.workspace_id', $1, true)`, [own.workspaceId])
    await client.query(`set local role ${may.rows[0].insert ? 'oothecary_app' : 'oothecary_owner'}`)
    const names = Object.keys(row).map((name) => `"${name}"`)
    const slots = names.map((_, index) => `$${index + 1}`)
    await client.query(`insert into ${table} (${names}) values (${slots})`, Object.values(row))
    return 'accepted'
  } catch (error) {
    if (!(error instanceof pg.DatabaseError)) throw error
    return `${error.code} ${error.constraint ?? error.message}`
  } finally {
    await client.query('rollback')
  }
}

const rowOf = ({ rows }: Stock, table: string): Row => {
  const row = rows.get(table)
  if (!row) throw new Error(`tests/isolation/stock.ts puts nothing into ${table}`)
  return row
}

/** Of these links a record has one: with it go the others. */
const ALONE: Readonly<Record<string, Row>> = {
  order_payment_order_fkey: { reverses: null },
  care_sheet_species_fkey: { profile_number: null },
  care_sheet_egg_case_fkey: { individual_id: null, lot_id: null },
  paper_egg_case_fkey: { individual_id: null },
  photo_adder_fkey: { on_sheet: false },
  photo_individual_fkey: { on_sheet: false },
  public_link_egg_case_fkey: { individual_id: null },
  public_link_lot_fkey: { individual_id: null },
}

describe('a link to a record of another workspace', () => {
  it('can be tried for every table: each has a record of both workspaces', async () => {
    const { rows } = await client.query<{ name: string }>(
      `select c.relname as name from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attname = 'workspace_id'
       where c.relnamespace = 'public'::regnamespace and c.relkind = 'r'`,
    )
    for (const { name } of rows)
      expect([name, own.rows.has(name), neighbour.rows.has(name)]).toEqual([name, true, true])
  })

  it('is refused like a link to nothing, for each of the links there are', async () => {
    const links = (await listLinks()).filter(({ columns }) => columns.length > 1)
    expect(links.length).toBeGreaterThan(40)
    for (const { name, table, target, columns, targets } of links) {
      const fresh = await makeFresh(table, rowOf(own, table))
      const foreign = { ...fresh, ...ALONE[name] }
      const unknown = { ...fresh, ...ALONE[name] }
      columns.slice(1).forEach((column, index) => {
        const there = rowOf(neighbour, target)[targets[index + 1] ?? '']
        foreign[column] = there
        const isId = typeof there === 'string' && /^[0-9a-f-]{36}$/.test(there)
        unknown[column] = isId ? randomUUID() : there
      })
      const answer = await tryInsert(table, foreign)
      expect([name, answer]).toEqual([name, `23503 ${ASKED_FIRST[name] ?? name}`])
      expect([name, await tryInsert(table, unknown)]).toEqual([name, answer])
    }
  })

  it('while the same record with its own links is accepted', async () => {
    // One of them per workspace, species, clutch, sale, line, zone or animal: there cannot be a second.
    const derived = [
      'animal_growth',
      'bench_hours',
      'clutch_growth',
      'day_mail',
      'food_limits',
      'growth_fit',
      'head_count',
      'past_window_month',
      'sale_reversal',
    ].concat(
      'dispatch_rules',
      'order_address',
      'buyer_person',
      'till',
      'sale_payment',
      'reservation',
      'price_entry',
      'price_list',
      'sale_return_line',
      'sale_line',
      'public_link',
      'photo',
      'photo_content',
      'sheet_batch_file',
      'watch_look',
      'zone_watch',
      'zone_watcher',
      'show_box_animal',
      'taken_over',
    )
    for (const table of own.rows.keys()) {
      if (derived.includes(table) || table === 'workspace') continue
      const answer = await tryInsert(table, await makeFresh(table, rowOf(own, table)))
      // An animal moves on in the ledger once: the copy of its entry finds it elsewhere.
      const isRepeated = table === 'head_count_entry' && answer.startsWith('P0001 individual-elsewhere')
      expect([table, isRepeated ? 'accepted' : answer]).toEqual([table, 'accepted'])
    }
  })

  it('and a record put into another workspace is refused as if that workspace were not there', async () => {
    for (const table of own.rows.keys()) {
      const fresh = await makeFresh(table, rowOf(own, table))
      const foreign = await tryInsert(table, { ...fresh, workspace_id: neighbour.workspaceId })
      const unknown = await tryInsert(table, { ...fresh, workspace_id: randomUUID() })
      expect([table, foreign.split(' ')[0], foreign === unknown]).toEqual([table, '42501', true])
    }
  })
})

describe('without a workspace', () => {
  it('every table answers with an error, never with an empty list', async () => {
    for (const table of own.rows.keys()) {
      await client.query('begin; set local role oothecary_app')
      const asked = client.query(`select count(*) from ${table}`)
      await expect(asked, table).rejects.toMatchObject({
        code: '42501',
        message: expect.stringMatching(/^workspace-missing/),
      })
      await client.query('rollback')
    }
  })

  it('and with one it answers with its own records alone', async () => {
    for (const table of own.rows.keys()) {
      await client.query('begin')
      await client.query(`select set_config('app.workspace_id', $1, true)`, [own.workspaceId])
      await client.query('set local role oothecary_app')
      const { rows } = await client.query(`select distinct workspace_id as id from ${table}`)
      expect([table, rows]).toEqual([table, [{ id: own.workspaceId }]])
      const { rows: texts } = await client.query(
        `select count(*)::int as found from ${table} t where t::text like '%Neighbour%'`,
      )
      expect([table, texts[0].found]).toEqual([table, 0])
      await client.query('rollback')
    }
  })

  it('and no change reaches the records of another one', async () => {
    for (const table of own.rows.keys()) {
      const { rows: may } = await client.query(
        `select a.attname as name from pg_attribute a where a.attrelid = $1::regclass and a.attnum > 0
         and has_column_privilege('oothecary_app', a.attrelid, a.attnum, 'UPDATE') limit 1`,
        [table],
      )
      if (!may[0]) continue
      await client.query('begin')
      await client.query(`select set_config('app.workspace_id', $1, true)`, [own.workspaceId])
      await client.query('set local role oothecary_app')
      const changed = await client.query(
        `update ${table} set "${may[0].name}" = "${may[0].name}" where workspace_id = $1`,
        [neighbour.workspaceId],
      )
      expect([table, changed.rowCount]).toEqual([table, 0])
      await client.query('rollback')
    }
  })
})
