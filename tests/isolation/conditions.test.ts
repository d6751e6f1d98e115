import { beforeAll, describe, expect, it } from 'vitest'
import { inTransaction } from '@/lib/platform/db'
import { requireDatabase } from '@/tests/support/database'
import { checkEveryCall } from './calls/attempt'

const database = requireDatabase()

// As a role that row-level security does not hold, every condition has to keep the workspaces apart alone.
beforeAll(() => {
  process.env.APP_DATABASE_URL = database.urls.admin
})

describe('every function of the records, by its own conditions alone', () => {
  it('is asked here as a role that sees every workspace', async () => {
    const settings = { workspaceId: '00000000-0000-0000-0000-000000000000', personId: null, apiTokenId: null }
    const rows = await inTransaction(
      settings,
      (tx) => tx.$queryRaw<{ sees: boolean }[]>`
      select rolbypassrls or rolsuper as sees from pg_roles where rolname = current_user`,
    )
    expect(rows[0]?.sees).toBe(true)
  })

  checkEveryCall(database)
})
