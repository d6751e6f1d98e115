import { randomUUID } from 'node:crypto'
import { createWriteStream, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { finished } from 'node:stream/promises'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { takeWorkspaceCopy } from '@/lib/features/workspace-copy/data'
import { restoreWorkspaceCopy } from '@/lib/features/workspace-copy/mutations'
import { eraseWorkspace } from '@/lib/ops/backup/erase'
import { listTables, measure } from '@/lib/ops/backup/tables'
import { readCatalogue } from '@/lib/ops/database/catalogue.mjs'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { lookUpDeleted } from '@/lib/platform/archived-workspace'
import { enqueueMail } from '@/lib/platform/jobs'
import { mintScope } from '@/lib/platform/workspace'
import { type Stock, stockWorkspace } from '@/tests/isolation/stock'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makePerson, within } from '@/tests/support/workspaces'

const database = requireDatabase()
const folder = mkdtempSync(path.join(os.tmpdir(), 'oothecary-erase-'))
const file = path.join(folder, 'whole.zip')

let own: Stock
let neighbour: Stock

const count = () =>
  withClient(database.urls.admin, async (client) => measure(client, await listTables(client)))

/** How many rows each table has of a workspace, and their sum. */
async function rowsOf(workspaceId: string) {
  const measured = await count()
  return Object.fromEntries(
    Object.entries(measured).flatMap(([table, by]) => (by[workspaceId] ? [[table, by[workspaceId]]] : [])),
  )
}

/** How many jobs wait for a workspace, be they due in years. */
const jobsOf = (workspaceId: string) =>
  withClient(database.urls.admin, async (client) => {
    const { rows } = await client.query<{ count: number }>(
      `select count(*)::int as count from graphile_worker._private_jobs where payload ->> 'workspaceId' = $1`,
      [workspaceId],
    )
    return rows[0]?.count ?? 0
  })

beforeAll(async () => {
  await withClient(database.urls.admin, async (client) => {
    own = await stockWorkspace(client, 'Okapi')
    neighbour = await stockWorkspace(client, 'Narwhal')
  })
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('one workspace alone', () => {
  it('is exported, erased without a trace, and back from its file, while its neighbour keeps every row', async () => {
    const { workspaceId, personId } = own
    const scope = mintScope({ workspaceId, personId, role: 'owner' })
    const out = createWriteStream(file)
    await within(scope, (_tx, workspace) => takeWorkspaceCopy(workspace, out))
    await finished(out)
    for (const scoped of [
      scope,
      mintScope({ workspaceId: neighbour.workspaceId, personId: null, role: 'owner' }),
    ])
      await within(scoped, (tx) => enqueueMail(tx, scoped.workspaceId, randomUUID()))
    const queued = { own: await jobsOf(workspaceId), neighbour: await jobsOf(neighbour.workspaceId) }
    expect(Math.min(queued.own, queued.neighbour)).toBeGreaterThan(0)
    const before = { own: await rowsOf(workspaceId), neighbour: await rowsOf(neighbour.workspaceId) }
    const locks = await withConnection(database.urls.admin, readCatalogue)

    const removed = await eraseWorkspace(database.urls.admin, workspaceId)
    expect(removed).toBe(Object.values(before.own).reduce((sum, { rows }) => sum + rows, 0))
    expect(await rowsOf(workspaceId)).toEqual({})
    expect(await rowsOf(neighbour.workspaceId)).toEqual(before.neighbour)
    expect(await jobsOf(workspaceId)).toBe(0)
    expect(await jobsOf(neighbour.workspaceId)).toBe(queued.neighbour)
    expect(await withConnection(database.urls.admin, readCatalogue)).toBe(locks)

    const place = { name: 'Okapi again', slug: 'okapi-lane' }
    await restoreWorkspaceCopy({ path: file, place, person: await makePerson('Rosa Rueda') })
    const [back] = await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query<{ id: string }>(
        `select workspace_id as id from workspace where slug = $1`,
        [place.slug],
      )
      return rows
    })
    const after = await rowsOf(String(back?.id))
    for (const table of [
      'individual',
      'head_count',
      'head_count_entry',
      'sale',
      'sale_line',
      'moult',
      'reading',
    ])
      expect([table, after[table]?.rows]).toEqual([table, before.own[table]?.rows])
    expect(await rowsOf(neighbour.workspaceId)).toEqual(before.neighbour)
  })

  it('is erased by command only once its owner has deleted it', async () => {
    const slug = String(neighbour.rows.get('workspace')?.slug)
    expect(await lookUpDeleted(slug)).toBeUndefined()
    await withClient(database.urls.admin, async (client) => {
      await client.query(`select set_config('app.workspace_id', $1, false)`, [neighbour.workspaceId])
      await client.query('update workspace set archived_at = now() where slug = $1', [slug])
    })
    expect(await lookUpDeleted(slug)).toMatchObject({ workspaceId: neighbour.workspaceId })
  })
})
