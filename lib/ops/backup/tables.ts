import type { Client } from 'pg'

/** One table as the catalogue knows it; the backup knows nothing of what the tables mean. */
export type Table = { name: string; columns: string[]; hasWorkspace: boolean }

export const quote = (name: string): string => `"${name.replaceAll('"', '""')}"`

export const columnsOf = (table: Pick<Table, 'columns'>): string => table.columns.map(quote).join(', ')

/** Every table of the schema `public` but the record of migrations, with the columns that are not computed. */
export async function listTables(client: Client): Promise<Table[]> {
  const { rows } = await client.query<{ name: string; columns: string[] }>(
    `select relation.relname as name,
            array_agg(attribute.attname::text order by attribute.attnum) as columns
     from pg_class relation
     join pg_attribute attribute on attribute.attrelid = relation.oid
     where relation.relnamespace = 'public'::regnamespace
       and relation.relkind in ('r', 'p') and not relation.relispartition
       and relation.relname <> '_prisma_migrations'
       and attribute.attnum > 0 and not attribute.attisdropped and attribute.attgenerated = ''
     group by relation.relname
     order by relation.relname`,
  )
  return rows.map((row) => ({ ...row, hasWorkspace: row.columns.includes('workspace_id') }))
}

export type Sequence = { name: string; lastValue: string | null }

/** Where each sequence stands; null for one that was never asked. */
export async function listSequences(client: Client): Promise<Sequence[]> {
  const { rows } = await client.query<{ name: string }>(
    `select relname as name from pg_class
     where relkind = 'S' and relnamespace = 'public'::regnamespace order by relname`,
  )
  const sequences: Sequence[] = []
  for (const { name } of rows) {
    const found = await client.query<{ value: string | null }>(
      `select case when is_called then last_value::text end as value from public.${quote(name)}`,
    )
    sequences.push({ name, lastValue: found.rows[0]?.value ?? null })
  }
  return sequences
}

/** Per table and workspace (or `-` for a table that has none): how many rows, and a sum that no order changes. */
export type Checksums = Record<string, Record<string, { rows: number; sum: string }>>

export async function measure(client: Client, tables: Table[]): Promise<Checksums> {
  const checksums: Checksums = {}
  for (const table of tables) {
    const key = table.hasWorkspace ? 'workspace_id::text' : `'-'`
    const { rows } = await client.query<{ key: string; rows: number; sum: string }>(
      `select ${key} as key, count(*)::int as rows,
              sum(('x' || left(md5(row(${columnsOf(table)})::text), 15))::bit(60)::bigint)::text as sum
       from public.${quote(table.name)} group by 1 order by 1`,
    )
    checksums[table.name] = Object.fromEntries(rows.map((row) => [row.key, { rows: row.rows, sum: row.sum }]))
  }
  return checksums
}

/** The same value is always written with the same letters, whatever the server's settings. */
export const PLAIN_TEXT = `set local datestyle = 'ISO, MDY'; set local intervalstyle = 'iso_8601';
  set local bytea_output = 'hex'; set local extra_float_digits = 1; set local timezone = 'UTC';
  set local statement_timeout = 0; set local search_path = pg_catalog`
