import { createHash } from 'node:crypto'
import type pg from 'pg'
import { AppError, invariant } from '@/lib/platform/errors'

/**
 * The tables of one workspace as the database's own catalogue knows them, for copying a workspace without knowing what
 * its tables mean: a table that is added later is copied too.
 */
export type WorkspaceTable = {
  name: string
  /** every column but the workspace's own and secrets, in their order */
  columns: string[]
  key: string[]
  /** the tables its rows refer to */
  parents: string[]
  /** a hash of something that opens a door: no other workspace can have a copy of it */
  hasSecret: boolean
  /** columns that hold files: few rows are many bytes */
  fileColumns: string[]
}

const quote = (name: string) => `"${name.replaceAll('"', '""')}"`

/** Parents before children. */
export async function listWorkspaceTables(client: pg.ClientBase): Promise<WorkspaceTable[]> {
  const { rows } = await client.query<WorkspaceTable>(
    `select c.relname::text as name,
       array_agg(a.attname::text order by a.attnum)
         filter (where a.attname <> 'workspace_id' and not (a.atttypid = 'bytea'::regtype and a.attname like '%hash'))
         as columns,
       bool_or(a.atttypid = 'bytea'::regtype and a.attname like '%hash') as "hasSecret",
       coalesce(array_agg(a.attname::text) filter (where a.atttypid = 'bytea'::regtype and a.attname not like '%hash'),
         '{}') as "fileColumns",
       (select array_agg(k.attname::text order by array_position(i.indkey::int2[], k.attnum))
        from pg_index i join pg_attribute k on k.attrelid = i.indrelid and k.attnum = any (i.indkey::int2[])
        where i.indrelid = c.oid and i.indisprimary) as key,
       array(select distinct f.confrelid::regclass::text from pg_constraint f
             where f.conrelid = c.oid and f.contype = 'f') as parents
     from pg_class c
     join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped and a.attgenerated = ''
     where c.relnamespace = 'public'::regnamespace and c.relkind = 'r'
       and exists (select from pg_attribute w where w.attrelid = c.oid and w.attname = 'workspace_id')
     group by c.oid, c.relname order by c.relname`,
  )
  return orderByParents(rows)
}

function orderByParents(tables: WorkspaceTable[]): WorkspaceTable[] {
  const ordered: WorkspaceTable[] = []
  let waiting = tables
  while (waiting.length > 0) {
    const isLeft = (parent: string, own: string) =>
      parent !== own && waiting.some(({ name }) => name === parent)
    const free = waiting.filter(({ name, parents }) => !parents.some((parent) => isLeft(parent, name)))
    invariant(free.length > 0, 'no circle of tables that refer to each other')
    ordered.push(...free)
    waiting = waiting.filter((table) => !free.includes(table))
  }
  return ordered
}

const ROWS_AT_ONCE = 500
const FILES_AT_ONCE = 4

/** Each row of the workspace as one line of JSON, in the order of its key. */
export async function* readRows(
  client: pg.ClientBase,
  { name, key, fileColumns }: WorkspaceTable,
  columns: readonly string[],
): AsyncGenerator<string[]> {
  const order = key.filter((column) => column !== 'workspace_id').map(quote)
  const shown = columns.map((column) => `${literal(column)}, ${shownAs(name, column)}`)
  // A function takes a hundred arguments at most, and two are one column.
  const pieces = inGroups(shown, 40).map((group) => `jsonb_build_object(${group.join(', ')})`)
  await client.query(
    `declare copied no scroll cursor for
     select (${pieces.join(' || ')})::text as line from public.${quote(name)}
     where workspace_id = app.workspace() ${order.length > 0 ? `order by ${order.join(', ')}` : ''}`,
  )
  const next = `fetch ${fileColumns.length > 0 ? FILES_AT_ONCE : ROWS_AT_ONCE} from copied`
  for (;;) {
    const { rows } = await client.query<{ line: string }>(next)
    if (rows.length === 0) break
    yield rows.map(({ line }) => line)
  }
  await client.query('close copied')
}

/** The trail repeats whole rows, with the hashes that open doors: those stay here. */
function shownAs(table: string, column: string): string {
  const isRow = table === 'audit_entry' && ['before', 'after'].includes(column)
  return isRow ? `${quote(column)} - array['token_hash', 'request_hash']` : quote(column)
}

const literal = (text: string) => `'${text.replaceAll("'", "''")}'`

function inGroups<T>(values: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(values.length / size) }, (_, group) =>
    values.slice(group * size, (group + 1) * size),
  )
}

/** Counts rows and takes their fingerprint as they pass. */
export function startMeasure() {
  const hash = createHash('sha256')
  let rows = 0
  return {
    async *pass(batches: AsyncIterable<string[]>): AsyncGenerator<Buffer> {
      for await (const lines of batches) {
        const piece = Buffer.from(`${lines.join('\n')}\n`)
        rows += lines.length
        hash.update(piece)
        yield piece
      }
    },
    result: () => ({ rows, sha256: hash.digest('hex') }),
  }
}

/** How many rows a table of this workspace has now, and their fingerprint over the given columns. */
export async function measureRows(
  client: pg.ClientBase,
  table: WorkspaceTable,
  columns: readonly string[],
): Promise<{ rows: number; sha256: string }> {
  const measured = startMeasure()
  for await (const _ of measured.pass(readRows(client, table, columns)));
  return measured.result()
}

/**
 * Puts lines as `readRows` gives them into the workspace of this transaction, in their order.
 * @throws AppError invalid when the database does not take them
 */
export async function insertRows(
  client: pg.ClientBase,
  table: Pick<WorkspaceTable, 'name' | 'columns'>,
  lines: readonly string[],
): Promise<void> {
  if (lines.length === 0) return
  const columns = table.columns.map(quote)
  try {
    await client.query(
      `insert into public.${quote(table.name)} (workspace_id, ${columns.join(', ')})
       select app.workspace(), ${columns.map((column) => `r.${column}`).join(', ')}
       from jsonb_array_elements($1::jsonb) with ordinality as e(line, place)
       cross join lateral jsonb_populate_record(null::public.${quote(table.name)}, e.line) r
       order by e.place`,
      [`[${lines.join(',')}]`],
    )
  } catch (error) {
    throw readRefusedRows(error, table.name)
  }
}

/** Values of another kind, a broken rule, a reference to nothing: what stands in the file cannot be a record here. */
const OF_THE_CONTENT = /^(22|23|P0001|42804)/

function readRefusedRows(error: unknown, table: string): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  if (!OF_THE_CONTENT.test(code)) return error
  const rule = error instanceof Error && 'constraint' in error ? ` (${String(error.constraint)})` : ''
  return new AppError(
    'invalid',
    `What stands in this file under ${table} cannot be a record here${rule}. Nothing of it was taken in.`,
  )
}
