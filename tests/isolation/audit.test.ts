import { beforeAll, describe, expect, it } from 'vitest'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()

async function ask<T extends object>(sql: string): Promise<T[]> {
  return withClient(database.urls.admin, async (client) => (await client.query<T>(sql)).rows)
}

type Audited = { table: string; key: string[] }

const listAudited = () =>
  ask<Audited>(`
    select c.relname::text as table, array(
      select a.attname::text from unnest(k.conkey) n join pg_attribute a on a.attrelid = c.oid and a.attnum = n) as key
    from pg_trigger g join pg_class c on c.oid = g.tgrelid
    join pg_constraint k on k.conrelid = c.oid and k.contype = 'p'
    where g.tgname = 'audit' order by 1`)

/** A record's key as text, from the JSON that the trail keeps. */
const keyOf = ({ key }: Audited, json: string) =>
  key.map((column) => `((${json})->>'${column}')`).join(` || '/' || `)

beforeAll(async () => {
  const { seedDemo } = await import('@/prisma/seed/demo')
  await seedDemo({ anchorOn: '2027-03-14', seed: 11 })
})

describe('the audit trail, replayed', () => {
  it('gives every record as it is now, and none that is not there', async () => {
    for (const audited of await listAudited()) {
      const [{ compared, wrong } = { compared: 0, wrong: 0 }] = await ask<{
        compared: number
        wrong: number
      }>(`
        with newest as (
          select distinct on (k) k, after from (
            select ${keyOf(audited, 'coalesce(after, before)')} as k, after, at, id
            from audit_entry where table_name = '${audited.table}') e
          order by k, at desc, id desc),
        present as (select ${keyOf(audited, 'to_jsonb(t)')} as k, to_jsonb(t) as row from ${audited.table} t)
        select count(*)::int as compared,
          count(*) filter (where newest.after is distinct from present.row)::int as wrong
        from (select * from newest where after is not null) newest full join present using (k)`)
      expect([audited.table, wrong]).toEqual([audited.table, 0])
      if (audited.table === 'individual') expect(compared).toBeGreaterThan(100)
    }
  })

  it('misses no step: each entry begins where the one before it ended', async () => {
    for (const audited of await listAudited()) {
      const [{ broken } = { broken: -1 }] = await ask<{ broken: number }>(`
        select count(*)::int as broken from (
          select before, lag(after) over (partition by ${keyOf(audited, 'coalesce(after, before)')} order by at, id) as last
          from audit_entry where table_name = '${audited.table}') e
        where before is distinct from last`)
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
