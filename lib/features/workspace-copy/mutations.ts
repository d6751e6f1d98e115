import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import type { EntryState } from '@/lib/domain/head-count/head-count'
import { orderEntries } from '@/lib/domain/head-count/replay'
import { createWorkspaceSchema } from '@/lib/features/workspace/schema'
import { whyOnlyTold } from '@/lib/features/workspace-copy/data'
import {
  CHANGED,
  COUNTED,
  COUNTED_UP,
  LINK_COLUMN,
  type Manifest,
  type ManifestTable,
  manifestSchema,
  RENEWED,
  type Restored,
  type RestorePlace,
  type Restorer,
} from '@/lib/features/workspace-copy/schema'
import { readRefusal } from '@/lib/platform/database-error'
import { AppError } from '@/lib/platform/errors'
import { inOwnTransaction } from '@/lib/platform/own-connection'
import { publicTokenHash } from '@/lib/platform/public-link'
import { listKnownMigrations } from '@/lib/platform/readiness'
import {
  insertRows,
  listWorkspaceTables,
  measureRows,
  type WorkspaceTable,
} from '@/lib/platform/workspace-tables'
import { openZip, type ZipReader } from '@/lib/platform/zip/read'

export type Restore = { path: string; place: RestorePlace; person: Restorer }

const LARGEST_MANIFEST_BYTES = 1_000_000
const LARGEST_TABLE_BYTES = 1_000_000_000
const LONGEST_LINE = 16_000_000
const BATCH_CHARACTERS = 4_000_000
const BATCH_LINES = 2000

const refuse = (what: string) => new AppError('invalid', `${what} Nothing of it was taken in.`)

/**
 * Makes a new workspace from a copy, in one transaction: all of it or nothing. The ledger is played again, so that the
 * counts are its own and not the file's; at the end every table is compared with what was written.
 * @throws AppError invalid for a file that is damaged, changed or of a newer version; name-taken for the address
 */
export async function restoreWorkspaceCopy({ path, place, person }: Restore): Promise<Restored> {
  const zip = await openZip(path)
  try {
    const manifest = await readManifest(zip)
    const work = (client: pg.Client) => restoreInto({ client, zip, manifest }, place, person)
    return await inOwnTransaction({ workspaceId: randomUUID(), isReadOnly: false }, work)
  } finally {
    await zip.close()
  }
}

async function readManifest(zip: ZipReader): Promise<Manifest> {
  if (!zip.has('manifest.json')) throw refuse('This zip is no copy of a workspace: it has no manifest.json.')
  const pieces: Buffer[] = []
  for await (const piece of zip.read('manifest.json', LARGEST_MANIFEST_BYTES)) pieces.push(piece)
  const parsed = manifestSchema.safeParse(readJson(Buffer.concat(pieces).toString()))
  if (!parsed.success) throw refuse('The manifest.json of this file is not what an export writes.')
  if (!(await listKnownMigrations()).includes(parsed.data.migration))
    throw refuse('This file was made by a newer version of Oothecary. Bring that one up to date first.')
  return parsed.data
}

/** What is no JSON is neither a row nor a manifest, and is refused as such by whoever looks at it. */
const NO_JSON = Symbol('no JSON')

function readJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return NO_JSON
  }
}

type Source = { client: pg.Client; zip: ZipReader; manifest: Manifest }
type Row = Record<string, unknown>
type Placing = Source & { table: WorkspaceTable; kept: ManifestTable; linkIds: Map<string, string> }

async function restoreInto(source: Source, place: RestorePlace, person: Restorer): Promise<Restored> {
  const { client, manifest } = source
  const tables = await listWorkspaceTables(client)
  const unknown = manifest.tables.find(({ name }) => !tables.some((table) => table.name === name))
  if (unknown) throw refuse(`There is no table ${unknown.name} here.`)
  const linkIds = new Map<string, string>()
  const placed: Placing[] = []
  for (const table of tables) {
    const kept = manifest.tables.find(({ name }) => name === table.name)
    if (!kept || whyOnlyTold(table)) continue
    checkColumns(table, kept)
    const placing = { ...source, table, kept, linkIds }
    if (table.name === 'workspace') await placeWorkspace(placing, place)
    else if (table.name === 'membership') await placeMembers(placing, person)
    else if (table.name !== COUNTED) await placeRows(placing)
    placed.push(placing)
  }
  if (!placed.some(({ table }) => table.name === 'workspace')) throw refuse('This file names no workspace.')
  for (const placing of placed) await compare(placing)
  const rows = placed.reduce((sum, { kept }) => sum + kept.rows, 0)
  return { workspace: place.slug, name: place.name, tables: placed.length, rows }
}

function checkColumns(table: WorkspaceTable, { name, columns }: ManifestTable): void {
  const unknown = columns.find((column) => !table.columns.includes(column))
  if (unknown) throw refuse(`There is no ${unknown} in ${name} here.`)
}

/** The lines of one table, each of them a row with exactly the columns it should have. */
async function* readLines({ zip, kept }: Placing): AsyncGenerator<{ line: string; row: Row }> {
  const columns = new Set(kept.columns)
  for await (const line of splitLines(zip.read(`records/${kept.name}.ndjson`, LARGEST_TABLE_BYTES))) {
    const row = readJson(line)
    const isRow = typeof row === 'object' && row !== null && !Array.isArray(row)
    const names = isRow ? Object.keys(row) : []
    if (!isRow || names.length !== columns.size || !names.every((each) => columns.has(each)))
      throw refuse(`A line of records/${kept.name}.ndjson is not a row of that table.`)
    yield { line, row: row as Row }
  }
}

async function* splitLines(pieces: AsyncIterable<Buffer>): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: false })
  let rest = ''
  for await (const piece of pieces) {
    const lines = (rest + decoder.decode(piece, { stream: true })).split('\n')
    rest = lines.pop() ?? ''
    if (rest.length > LONGEST_LINE) throw refuse('A line of this file is longer than any record.')
    yield* lines
  }
  if (rest !== '') yield rest
}

async function readAll(placing: Placing): Promise<{ line: string; row: Row }[]> {
  const found: { line: string; row: Row }[] = []
  for await (const each of readLines(placing)) found.push(each)
  return found
}

async function placeWorkspace(placing: Placing, { name, slug }: RestorePlace): Promise<void> {
  const { client, table, kept } = placing
  const [only, ...more] = await readAll(placing)
  if (!only || more.length > 0) throw refuse('This file has not exactly one workspace in it.')
  if (!hasUsableSettings(only.row))
    throw refuse('The time zone, country, currency or language in this file is none.')
  // It is no demo that is renewed, and nobody deleted this one.
  const unset = ['demo_anchor_on', 'archived_at'].filter((column) => kept.columns.includes(column))
  const own = { ...only.row, name, slug, ...Object.fromEntries(unset.map((column) => [column, null])) }
  await insertRows(client, { name: table.name, columns: kept.columns }, [JSON.stringify(own)])
  try {
    await client.query('insert into workspace_slug (workspace_id, slug) values (app.workspace(), $1)', [slug])
  } catch (error) {
    if (readRefusal(error)?.code !== 'name-taken') throw error
    const fields = [{ path: 'slug', message: 'This address is already taken.' }]
    throw new AppError('name-taken', 'Choose another address.', { fields })
  }
}

/** Questions about all workspaces at once ask for what time it is in each: one that has no time would stop them all. */
function hasUsableSettings({ country, time_zone: timeZone, currency, language }: Row): boolean {
  const settings = { country, timeZone, currency, language }
  return createWorkspaceSchema.omit({ name: true, slug: true }).safeParse(settings).success
}

/** Whoever wrote the records is named by them still, but nobody gets in by a file: only who takes it back. */
async function placeMembers(placing: Placing, { personId, name, email }: Restorer): Promise<void> {
  const { client, table, kept } = placing
  const members = await readAll(placing)
  const now = new Date().toISOString()
  const lines = members.map(({ row }) => {
    const isOwn = row.person_id === personId
    return JSON.stringify({
      ...row,
      ended_at: isOwn ? null : (row.ended_at ?? now),
      ...(isOwn ? { role: 'owner' } : {}),
    })
  })
  await insertRows(client, { name: table.name, columns: kept.columns }, lines)
  if (!members.some(({ row }) => row.person_id === personId))
    await client.query(
      `insert into membership (workspace_id, person_id, role, display_name, email)
       values (app.workspace(), $1, 'owner', $2, $3)`,
      [personId, name, email],
    )
  // From here on the trail names who did it.
  await client.query(`select set_config('app.person_id', $1, true)`, [personId])
}

async function placeRows(placing: Placing): Promise<void> {
  const { client, table, kept } = placing
  const target = { name: table.name, columns: kept.columns }
  if (table.name === 'head_count_entry') return placeEntries(placing)
  if (table.name === RENEWED) return placeLinks(placing)
  const refersToItself = table.parents.includes(table.name)
  let batch: string[] = []
  let characters = 0
  for await (const { line, row } of readLines(placing)) {
    batch.push(rewriteLine(placing, { line, row }))
    characters += line.length
    const isFull = batch.length >= BATCH_LINES || characters >= BATCH_CHARACTERS
    if (refersToItself || !isFull) continue
    await insertRows(client, target, batch)
    batch = []
    characters = 0
  }
  await insertRows(client, target, batch)
}

/** A page for the same animal under an id, and so an address, of its own. */
async function placeLinks({ linkIds, ...placing }: Placing): Promise<void> {
  const lines: string[] = []
  for await (const { row } of readLines({ ...placing, linkIds })) {
    const id = randomUUID()
    linkIds.set(String(row.id), id)
    const hash = Buffer.from(publicTokenHash({ id, generation: Number(row.generation) })).toString('hex')
    lines.push(JSON.stringify({ ...row, id, token_hash: `\\x${hash}` }))
  }
  const columns = [...placing.kept.columns, 'token_hash']
  await insertRows(placing.client, { name: RENEWED, columns }, lines)
}

function rewriteLine(placing: Placing, { line, row }: { line: string; row: Row }): string {
  const start = COUNTED_UP[placing.table.name]
  if (start) return JSON.stringify({ ...row, ...start })
  return typeof row[LINK_COLUMN] === 'string' ? renameLink(placing, row) : line
}

function renameLink({ linkIds }: Placing, row: Row): string {
  return JSON.stringify({
    ...row,
    [LINK_COLUMN]: linkIds.get(String(row[LINK_COLUMN])) ?? row[LINK_COLUMN],
  })
}

type Entry = Parameters<typeof orderEntries>[0][number] & { line: string }

/** In an order in which the ledger takes each of them again. */
async function placeEntries(placing: Placing): Promise<void> {
  const { client, table, kept } = placing
  const { rows } = await client.query<{ id: string; clutchId: string | null }>(
    `select id, clutch_id as "clutchId" from individual where workspace_id = app.workspace()`,
  )
  const clutchOf = new Map(rows.map(({ id, clutchId }) => [id, clutchId]))
  const entries: Entry[] = []
  for await (const { line, row } of readLines(placing)) entries.push(readEntry(line, row))
  const ordered = orderEntries(entries, clutchOf)
  if (!ordered) throw refuse('The entries of this file do not add up to a head count.')
  const lines = ordered.map(({ line }) => line)
  for (let from = 0; from < lines.length; from += BATCH_LINES)
    await insertRows(
      client,
      { name: table.name, columns: kept.columns },
      lines.slice(from, from + BATCH_LINES),
    )
}

function readEntry(line: string, row: Row): Entry {
  const textOf = (value: unknown) => (value === null || value === undefined ? null : String(value))
  return {
    line,
    id: String(row.id),
    clutchId: textOf(row.clutch_id),
    individualId: textOf(row.individual_id),
    from: String(row.from) as EntryState,
    to: String(row.to) as EntryState,
    count: Number(row.count),
    reverses: textOf(row.reverses),
  }
}

/** What is on record now is what the file says was on record then. */
async function compare({ client, table, kept }: Placing): Promise<void> {
  const found = await measureRows(client, table, kept.columns)
  const more = found.rows - kept.rows
  const isWhole = more === 0 || (more === 1 && table.name === 'membership')
  const isRenamed = CHANGED.includes(table.name) || kept.columns.includes(LINK_COLUMN)
  if (isWhole && (isRenamed || found.sha256 === kept.sha256)) return
  throw refuse(`What stands in this file under ${table.name} is not what was written.`)
}
