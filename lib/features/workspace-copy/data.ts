import type { Writable } from 'node:stream'
import type pg from 'pg'
import {
  FORMAT,
  type Manifest,
  type ManifestTable,
  NOT_TOLD,
  ONLY_TOLD,
  RENEWED,
  type Restorer,
} from '@/lib/features/workspace-copy/schema'
import { writeCsvLine } from '@/lib/platform/csv-line'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { inOwnTransaction } from '@/lib/platform/own-connection'
import { loadNewestMigration } from '@/lib/platform/readiness'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'
import {
  listWorkspaceTables,
  readRows,
  startMeasure,
  type WorkspaceTable,
} from '@/lib/platform/workspace-tables'
import { createZip, type ZipWriter } from '@/lib/platform/zip/write'

const READ_ME = `This is everything one workspace of Oothecary had on record at one moment.

manifest.json   when and from what it was made; every table with its columns, its number of rows and the
                SHA-256 of its file under records/
records/        each table as lines of JSON, one row a line: what a restore reads
tables/         the same for a spreadsheet (CSV, UTF-8). A text that a spreadsheet would run as a formula
                has an apostrophe in front; a restore does not read these

Dates are YYYY-MM-DD, instants RFC 3339 in UTC, temperatures °C, lengths mm, money in minor units.
Passwords, tokens and the secrets behind links are not in it. It holds names and addresses of people: keep it
where you would keep those.
`

/**
 * Writes everything of a workspace as it stands at one moment into a zip, under row-level security like all else.
 * @throws AppError too-many while others are being copied
 */
export async function takeWorkspaceCopy(
  { workspaceId, name, slug }: Pick<Workspace, 'workspaceId' | 'name' | 'slug'>,
  out: Writable,
): Promise<void> {
  const migration = await loadNewestMigration()
  await inOwnTransaction({ workspaceId, isReadOnly: true }, async (client) => {
    const zip = createZip(out)
    await zip.addFile('READ-ME.txt', oneByOne([READ_ME]))
    const tables: ManifestTable[] = []
    for (const table of await listWorkspaceTables(client))
      if (!NOT_TOLD.includes(table.name)) tables.push(await addTable(zip, client, table))
    const head = { format: FORMAT, version: 1, madeAt: new Date().toISOString() } as const
    const manifest: Manifest = { ...head, workspace: { name, slug }, migration, tables }
    await zip.addFile('manifest.json', oneByOne([`${JSON.stringify(manifest, null, 2)}\n`]))
    await zip.finish()
  })
}

async function* oneByOne(texts: readonly string[]): AsyncGenerator<Buffer> {
  for (const text of texts) yield Buffer.from(text)
}

async function addTable(
  zip: ZipWriter,
  client: pg.ClientBase,
  table: WorkspaceTable,
): Promise<ManifestTable> {
  const measured = startMeasure()
  const { name, columns } = table
  await zip.addFile(`records/${name}.ndjson`, measured.pass(readRows(client, table, columns)))
  await zip.addFile(`tables/${name}.csv`, writeTable(client, table))
  return { name, columns, ...measured.result(), onlyTold: whyOnlyTold(table) }
}

/** Why a table is in the file without being put back from it, if so. */
export function whyOnlyTold({ name, hasSecret }: Pick<WorkspaceTable, 'name' | 'hasSecret'>): string | null {
  const isDoor = hasSecret && name !== RENEWED
  return ONLY_TOLD[name] ?? (isDoor ? 'it opens the workspace it was made for' : null)
}

async function* writeTable(client: pg.ClientBase, table: WorkspaceTable): AsyncGenerator<Buffer> {
  const columns = table.columns.filter((column) => !table.fileColumns.includes(column))
  yield Buffer.from(writeCsvLine(columns))
  for await (const lines of readRows(client, table, columns)) {
    const cells = lines.map((line) => {
      const row = JSON.parse(line)
      return writeCsvLine(columns.map((column) => row[column]))
    })
    yield Buffer.from(cells.join(''))
  }
}

/** Who a copy is taken back by, as this workspace knows them. */
export async function loadRestorer(tx: Tx, workspaceId: WorkspaceId, personId: string): Promise<Restorer> {
  const member = await tx.membership.findUnique({
    where: { workspaceId_personId: { workspaceId, personId } },
    select: { displayName: true, email: true },
  })
  if (!member) throw refuseUnknown('person')
  return { personId, name: member.displayName, email: member.email }
}
