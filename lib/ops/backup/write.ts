import { createHash } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { pipeline } from 'node:stream/promises'
import { createGzip } from 'node:zlib'
import type { Client } from 'pg'
import { to as copyTo } from 'pg-copy-streams'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { Refusal } from '@/lib/ops/say.mjs'
import { fingerprint, type Manifest, markOfKey, writeManifest } from './folder'
import { columnsOf, listSequences, listTables, measure, PLAIN_TEXT, quote, type Table } from './tables'

export type BackupOrder = { url: string; linkKey: string; folder: string; madeAt: string }

/** What it asks the database costs as much as what it writes, where that runs on this machine and lets us. */
export async function letServiceGoFirst(client: Client): Promise<void> {
  const { rows } = await client.query('select pg_backend_pid() as pid, inet_client_port() as port')
  const { pid, port } = rows[0]
  try {
    const title = fs.readFileSync(`/proc/${pid}/cmdline`, 'latin1')
    const isOurs = title.startsWith('postgres: oothecary_backup ') && title.includes(`(${port})`)
    if (isOurs)
      os.setPriority(pid, Math.max(os.getPriority(pid), os.constants.priority.PRIORITY_BELOW_NORMAL))
  } catch {
    // A database of another machine or another user goes at its own pace.
  }
}

/** One view of all tables at one moment; filtering by row-level security would be an error, not a gap. */
async function openSnapshot(client: Client): Promise<void> {
  await client.query('begin isolation level repeatable read read only')
  await client.query(`${PLAIN_TEXT}; set local row_security = off`)
}

async function requireBypass(client: Client): Promise<void> {
  const { rows } = await client.query(
    'select rolsuper or rolbypassrls as may from pg_roles where rolname = current_user',
  )
  if (rows[0].may) return
  throw new Refusal(
    'The backup role may not read past row-level security yet. A superuser has to run once: alter role oothecary_backup bypassrls;',
  )
}

async function copyOut(client: Client, table: Table, folder: string): Promise<Manifest['tables'][number]> {
  const file = `${table.name}.copy.gz`
  const hash = createHash('sha256')
  const rows = client.query(copyTo(`copy public.${quote(table.name)} (${columnsOf(table)}) to stdout`))
  const target = fs.createWriteStream(path.join(folder, file), { mode: 0o600, flush: true })
  await pipeline(rows, fingerprint(hash), createGzip(), target)
  return { name: table.name, columns: table.columns, file, sha256: hash.digest('hex') }
}

async function listApplied(client: Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(
    `select migration_name as name from public._prisma_migrations
     where finished_at is not null and rolled_back_at is null order by migration_name`,
  )
  return rows.map(({ name }) => name)
}

async function writeInto(client: Client, { folder, linkKey, madeAt }: BackupOrder): Promise<Manifest> {
  const tables = await listTables(client)
  const copied: Manifest['tables'] = []
  for (const table of tables) copied.push(await copyOut(client, table, folder))
  const version = await client.query<{ server_version: string }>('show server_version')
  const manifest: Manifest = {
    format: 1,
    madeAt,
    serverVersion: version.rows[0]?.server_version ?? '',
    migrations: await listApplied(client),
    linkKeyMark: markOfKey(linkKey),
    tables: copied,
    sequences: await listSequences(client),
    checksums: await measure(client, tables),
  }
  writeManifest(folder, manifest)
  return manifest
}

/**
 * Copies every table as it stands at one moment into `folder`, which must not exist yet. The folder appears under
 * its name only when it is whole.
 * @throws Refusal when the role may not read everything
 */
export async function writeBackup(order: BackupOrder): Promise<Manifest> {
  const draft = `${order.folder}.unfinished`
  fs.rmSync(draft, { recursive: true, force: true })
  fs.mkdirSync(draft, { recursive: true, mode: 0o700 })
  try {
    const manifest = await withConnection(order.url, async (client) => {
      await requireBypass(client)
      await letServiceGoFirst(client)
      await openSnapshot(client)
      const written = await writeInto(client, { ...order, folder: draft })
      await client.query('commit')
      return written
    })
    fs.renameSync(draft, order.folder)
    return manifest
  } catch (error) {
    fs.rmSync(draft, { recursive: true, force: true })
    throw error
  }
}
