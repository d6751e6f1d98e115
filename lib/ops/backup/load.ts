import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { pipeline } from 'node:stream/promises'
import { createGunzip } from 'node:zlib'
import type { Client } from 'pg'
import { from as copyFrom } from 'pg-copy-streams'
import { OWNER } from '@/lib/ops/database/connection.mjs'
import { Refusal } from '@/lib/ops/say.mjs'
import { fingerprint, type Manifest } from './folder'
import { columnsOf, listTables, PLAIN_TEXT, quote } from './tables'

type Statements = { open: string[]; close: string[] }

/**
 * COPY is refused under forced row-level security, and the ledger's triggers would count every entry twice: both
 * are off for the time of the load, as are immediate foreign keys, since tables come in the order of their names.
 */
async function planGuards(client: Client): Promise<Statements> {
  const { rows } = await client.query<{ open: string; close: string }>(
    `select format('alter table %s no force row level security', oid::regclass) as open,
            format('alter table %s force row level security', oid::regclass) as close
     from pg_class where relnamespace = 'public'::regnamespace and relforcerowsecurity
     union all
     select format('alter table %s disable trigger %I', tgrelid::regclass, tgname),
            format('alter table %s enable %s trigger %I', tgrelid::regclass,
                   case tgenabled when 'A' then 'always' when 'R' then 'replica' else '' end, tgname)
     from pg_trigger join pg_class on pg_class.oid = tgrelid
     where relnamespace = 'public'::regnamespace and not tgisinternal and tgenabled <> 'D' and tgparentid = 0
     union all
     select format('alter table %s alter constraint %I deferrable initially deferred', conrelid::regclass, conname),
            format('alter table %s alter constraint %I %s', conrelid::regclass, conname,
                   case when condeferred then 'deferrable initially deferred'
                        when condeferrable then 'deferrable initially immediate' else 'not deferrable' end)
     from pg_constraint
     where connamespace = 'public'::regnamespace and contype = 'f' and conparentid = 0`,
  )
  return { open: rows.map(({ open }) => open), close: rows.map(({ close }) => close) }
}

async function copyIn(client: Client, folder: string, table: Manifest['tables'][number]): Promise<void> {
  const hash = createHash('sha256')
  const source = fs.createReadStream(path.join(folder, table.file))
  const target = client.query(copyFrom(`copy public.${quote(table.name)} (${columnsOf(table)}) from stdin`))
  await pipeline(source, createGunzip(), fingerprint(hash), target)
  if (hash.digest('hex') !== table.sha256)
    throw new Refusal(`${table.file} is damaged: it is not what was written.`)
}

async function checkTables(client: Client, manifest: Manifest): Promise<void> {
  const names = (tables: { name: string }[]) => tables.map(({ name }) => name).join(', ')
  const present = await listTables(client)
  if (names(present) === names(manifest.tables)) return
  throw new Refusal(
    `The tables of the backup (${names(manifest.tables)}) are not those of its migrations (${names(present)}).`,
  )
}

/** Fills a migrated database that holds nothing of worth with a backup: in one transaction, all or nothing. */
export async function loadBackup(client: Client, folder: string, manifest: Manifest): Promise<void> {
  await client.query('begin')
  try {
    await client.query(`set local role ${OWNER}; ${PLAIN_TEXT}; set local search_path = public, pg_catalog`)
    await checkTables(client, manifest)
    const guards = await planGuards(client)
    for (const statement of guards.open) await client.query(statement)
    await client.query(`truncate ${manifest.tables.map(({ name }) => `public.${quote(name)}`).join(', ')}`)
    for (const table of manifest.tables) await copyIn(client, folder, table)
    for (const { name, lastValue } of manifest.sequences) {
      if (lastValue !== null)
        await client.query('select setval($1::regclass, $2)', [`public.${quote(name)}`, lastValue])
    }
    await client.query('set constraints all immediate')
    for (const statement of guards.close) await client.query(statement)
    await client.query('commit')
  } catch (error) {
    await client.query('rollback')
    throw error
  }
}
