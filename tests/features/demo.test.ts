import { createHash } from 'node:crypto'
import { beforeAll, describe, expect, it, vi } from 'vitest'
import { isIndividualCode } from '@/lib/domain/label/code'
import { createTestDatabase, type TestDatabase, withClient } from '@/tests/support/clone'

const ANCHOR = '2027-03-14'

// Settings and connections are kept per process: each database gets modules of its own.
async function seedInto(database: TestDatabase): Promise<void> {
  vi.resetModules()
  Object.assign(process.env, database.environment)
  const { seedDemo } = await import('@/prisma/seed/demo')
  const { disconnect } = await import('@/lib/platform/db')
  const { disconnectAuth } = await import('@/lib/platform/auth-database')
  await seedDemo({ anchorOn: ANCHOR, seed: 41 })
  await disconnect()
  await disconnectAuth()
}

// The audit trail has ids and instants of its own, people have salted passwords; everything else is the story.
async function fingerprint(database: TestDatabase): Promise<Record<string, string>> {
  return withClient(database.urls.admin, async (client) => {
    const tables = await client.query<{ name: string }>(
      `select relname as name from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r'
       and relname not in ('audit_entry', 'person', '_prisma_migrations', 'throttle') order by 1`,
    )
    const prints: Record<string, string> = {}
    for (const { name } of tables.rows) {
      const rows = await client.query(`select to_jsonb(t)::text as row from ${name} t order by 1`)
      prints[name] =
        `${rows.rowCount} ${createHash('sha256').update(JSON.stringify(rows.rows)).digest('hex')}`
    }
    return prints
  })
}

describe('the demo', () => {
  let first: TestDatabase
  let second: TestDatabase
  const ask = async <T extends object>(sql: string) =>
    (await withClient(first.urls.admin, (c) => c.query<T>(sql))).rows

  beforeAll(async () => {
    first = await createTestDatabase()
    second = await createTestDatabase()
    await seedInto(first)
    await seedInto(second)
    return async () => {
      await first.drop()
      await second.drop()
    }
    // A year of story twice, with all that is looked back on in it.
  }, 400_000)

  it('makes the same rows from the same seed and anchor day', async () => {
    expect(await fingerprint(second)).toEqual(await fingerprint(first))
  })

  it('sums the head count of every clutch', async () => {
    const clutches = await ask<{ hatched: number; rest: number; together: number }>(
      `select hatched, together, together + single + sold + given_away + dead + escaped + unaccounted as rest
       from head_count`,
    )
    expect(clutches.length).toBeGreaterThanOrEqual(10)
    for (const { hatched, rest } of clutches) expect(rest).toBe(hatched)
    expect(clutches.some(({ together }) => together >= 40)).toBe(true)
  })

  it('counts as single exactly the animals that are at home in a cup', async () => {
    const [sums] = await ask<{ counted: number; animals: number; housed: number }>(
      `select (select sum(single)::int from head_count) as counted,
        (select count(*)::int from individual where clutch_id is not null and whereabouts = 'single') as animals,
        (select count(*)::int from housing h join individual i on i.id = h.individual_id
         where i.clutch_id is not null and h.until_on is null) as housed`,
    )
    expect(sums?.animals).toBe(sums?.counted)
    expect(sums?.housed).toBe(sums?.counted)
  })

  it('keeps some cups as a tray, and two clutches in a colony that was counted whole', async () => {
    const [company] = await ask<{
      cups: number
      members: number
      counted: number
      together: number
      span: number
    }>(
      `select (select count(*)::int from individual i join tray t on t.id = i.tray_id
          where i.whereabouts = 'single' and i.clutch_id = t.clutch_id) as cups,
        (select count(*)::int from clutch_housing where colony_id is not null and until_on is null) as members,
        (select sum(animals)::int from colony_count) as counted,
        (select max(moults) - min(moults) from colony_count) as span,
        (select sum(n.together)::int from clutch_housing h join head_count n on n.clutch_id = h.clutch_id
          where h.colony_id is not null and h.until_on is null) as together`,
    )
    expect(company).toMatchObject({ cups: 14, members: 2 })
    expect(company?.counted).toBeGreaterThanOrEqual(company?.together ?? 0)
    expect(company?.span).toBeLessThanOrEqual(1)
  })

  it('knows nothing of days after its anchor day, except what is planned', async () => {
    const [late] = await ask<{ n: number }>(
      `select (select count(*) from moult where "on" > '${ANCHOR}') + (select count(*) from sale where "on" > '${ANCHOR}')
        + (select count(*) from head_count_entry where "on" > '${ANCHOR}')
        + (select count(*) from individual where baseline_on > '${ANCHOR}') as n`,
    )
    expect(Number(late?.n)).toBe(0)
  })

  it('gives every animal a code of its own that a tired person cannot misread', async () => {
    const labels = await ask<{ label: string; workspace_id: string }>(
      'select label, workspace_id from individual',
    )
    expect(labels.length).toBeGreaterThan(400)
    for (const { label } of labels) expect(isIndividualCode(label), label).toBe(true)
    expect(new Set(labels.map((row) => row.workspace_id + row.label)).size).toBe(labels.length)
  })

  it('keeps each animal moulting in order, each number once, never before it hatched', async () => {
    const broken = await ask(
      `select m.individual_id from moult m join individual i on i.id = m.individual_id
       where m.number <= i.baseline_moults or m."on" < i.baseline_on
       union all
       select a.individual_id from moult a join moult b on b.individual_id = a.individual_id
       where b.number = a.number + 1 and b."on" <= a."on"`,
    )
    expect(broken).toEqual([])
  })
})
