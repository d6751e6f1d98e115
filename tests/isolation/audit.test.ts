import { beforeAll, describe, expect, it } from 'vitest'
import { countAuditBreaks, listAudited, replayAudit } from '@/tests/support/bookkeeping'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()

async function ask<T extends object>(sql: string): Promise<T[]> {
  return withClient(database.urls.admin, async (client) => (await client.query<T>(sql)).rows)
}

beforeAll(async () => {
  const { seedDemo } = await import('@/prisma/seed/demo')
  await seedDemo({ anchorOn: '2027-03-14', seed: 11 })
})

describe('the audit trail, replayed', () => {
  it('gives every record as it is now, and none that is not there', async () => {
    for (const audited of await listAudited(ask)) {
      const { compared, wrong } = await replayAudit(ask, audited)
      expect([audited.table, wrong]).toEqual([audited.table, 0])
      if (audited.table === 'individual') expect(compared).toBeGreaterThan(100)
    }
  })

  it('misses no step: each entry begins where the one before it ended', async () => {
    for (const audited of await listAudited(ask)) {
      const broken = await countAuditBreaks(ask, audited)
      expect([audited.table, broken]).toEqual([audited.table, 0])
    }
  })

  it('notices a record that was changed past it', async () => {
    const changed = await withClient(database.urls.admin, async (client) => {
      await client.query(`begin; set local session_replication_role = replica`)
      await client.query(`update zone set name = name || ' (moved)'`)
      const { rows } = await client.query(`
        select count(*)::int as wrong from zone t where not exists (
          select from audit_entry e where e.table_name = 'zone' and e.after = to_jsonb(t))`)
      await client.query('rollback')
      return rows[0].wrong
    })
    expect(changed).toBeGreaterThan(0)
  })

  it('is kept per workspace: each entry says whose record it was', async () => {
    const [{ strayed } = { strayed: -1 }] = await ask<{ strayed: number }>(`
      select count(*)::int as strayed from audit_entry
      where (coalesce(after, before)->>'workspace_id')::uuid <> workspace_id`)
    expect(strayed).toBe(0)
  })
})
