import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readCatalogue } from '@/lib/ops/database/catalogue.mjs'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { inProject } from '@/lib/ops/place.mjs'
import { compareWithSchema } from '@/lib/ops/schema/engine.mjs'
import { createTestDatabase, withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()

async function withChanged<T>(sql: string, work: (url: string) => Promise<T>): Promise<T> {
  const other = await createTestDatabase()
  try {
    await withClient(other.urls.admin, (client) => client.query(sql))
    return await work(other.urls.admin)
  } finally {
    await other.drop()
  }
}

const expected = () => fs.readFileSync(inProject('prisma/catalogue.txt'), 'utf8')

describe('the migrated database', () => {
  it('has the tables, columns, keys and indexes that prisma/schema names', async () => {
    expect(await compareWithSchema(database.urls.admin)).toBeNull()
  })

  it('differs as soon as a column, an index or a key does', async () => {
    for (const change of [
      'alter table zone add column forgotten text',
      'alter table individual drop constraint individual_pkey cascade',
      'create index by_accident on zone (name)',
    ]) {
      expect(await withChanged(change, compareWithSchema), change).not.toBeNull()
    }
  })

  it('has the locks of prisma/catalogue.txt (npm run catalogue writes it anew)', async () => {
    expect(await withConnection(database.urls.admin, readCatalogue)).toBe(expected())
  })

  it('differs as soon as a policy, a grant, a trigger or a force of row-level security does', async () => {
    for (const change of [
      'drop policy own_workspace on zone',
      'grant delete on individual to oothecary_app',
      'alter table head_count disable trigger user; alter table clutch disable trigger user',
      'alter table zone no force row level security',
      'alter table zone owner to oothecary_app',
      'alter function app.workspace() security definer',
    ]) {
      const changed = await withChanged(change, (url) => withConnection(url, readCatalogue))
      expect(changed, change).not.toBe(expected())
    }
  })
})
