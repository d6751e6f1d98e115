import { spawn } from 'node:child_process'
import { describe, expect, it } from 'vitest'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { applyMigrations, listMigrations, withMigrationLock } from '@/lib/ops/database/migrations.mjs'
import { inProject } from '@/lib/ops/place.mjs'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()

const made = (name: string, sql: string) => ({ name, sql, checksum: name.padEnd(64, '0') })
const apply = (...more: ReturnType<typeof made>[]) =>
  withConnection(database.urls.admin, (client) => applyMigrations(client, [...listMigrations(), ...more]))

const historyOf = () =>
  withClient(database.urls.admin, async (client) => {
    const { rows } = await client.query('select migration_name from _prisma_migrations order by 1')
    return rows.map((row) => row.migration_name)
  })

/** A start on this database that is killed as soon as it stands in the middle of the given file. */
async function killInTheMiddleOf(
  slow: ReturnType<typeof made>,
  known: ReturnType<typeof made>[],
): Promise<void> {
  const script = `
    const { applyMigrations, listMigrations } = await import(${JSON.stringify(inProject('lib/ops/database/migrations.mjs'))})
    const { withConnection } = await import(${JSON.stringify(inProject('lib/ops/database/connection.mjs'))})
    const more = ${JSON.stringify([...known, slow])}
    await withConnection(process.argv[1], (client) => applyMigrations(client, [...listMigrations(), ...more]))`
  const child = spawn(process.execPath, ['--input-type=module', '-e', script, database.urls.admin], {
    stdio: ['ignore', 'inherit', 'inherit'],
  })
  const ended = new Promise((resolve) => child.once('exit', (_, signal) => resolve(signal)))
  const asleep = `select from pg_stat_activity where wait_event = 'PgSleep' and datname = current_database()`
  const isThere = () =>
    withClient(database.urls.admin, async (client) => (await client.query(asleep)).rowCount === 1)
  while (!(await isThere())) await new Promise((resolve) => setTimeout(resolve, 50))
  child.kill('SIGKILL')
  expect(await ended).toBe('SIGKILL')
}

describe('applying migrations', () => {
  it('has nothing to do on a database that has them all', async () => {
    expect(await apply()).toEqual([])
    expect(await historyOf()).toEqual(listMigrations().map(({ name }) => name))
  })

  it('keeps what came before a failing file, takes the failing one back whole, and goes on once it is mended', async () => {
    const good = made('29990101000000_good', 'create table good_one (id int)')
    const bad = made('29990101000001_bad', 'create table bad_one (id int); select 1/0;')
    await expect(apply(good, bad)).rejects.toThrow(/29990101000001_bad failed: division by zero/)
    expect(await historyOf()).toContain(good.name)
    await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query(
        `select to_regclass('good_one') as good, to_regclass('bad_one') as bad`,
      )
      expect(rows[0]).toEqual({ good: 'good_one', bad: null })
    })
    const mended = made(bad.name, 'create table bad_one (id int)')
    expect(await apply(good, mended)).toEqual([bad.name])
  })

  it('makes everything as the owner of the schema, who is nobody that can sign in', async () => {
    await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query(
        `select distinct tableowner from pg_tables where schemaname = 'public'`,
      )
      expect(rows).toEqual([{ tableowner: 'oothecary_owner' }])
    })
  })

  it('refuses a file that was edited after it was applied', async () => {
    const edited = listMigrations().map((each, at) =>
      at === 0 ? { ...each, checksum: 'f'.repeat(64) } : each,
    )
    await expect(
      withConnection(database.urls.admin, (client) => applyMigrations(client, edited)),
    ).rejects.toThrow(/edited after it was applied/)
  })

  it('refuses a database that a newer version has used', async () => {
    await expect(apply()).rejects.toThrow(/does not know/)
  })

  it('refuses a file that would end its own transaction', async () => {
    const leaky = made('29990102000000_leaky', 'create table leaky (id int);\ncommit;')
    const known = (await historyOf()).filter((name) => name.startsWith('2999')).map((name) => made(name, ''))
    await expect(apply(...known, leaky)).rejects.toThrow(/begins or ends a transaction/)
  })

  it('leaves nothing of a file in the middle of which its start was killed, and applies it whole the next time', async () => {
    const known = (await historyOf()).filter((name) => name.startsWith('2999')).map((name) => made(name, ''))
    const sql = 'create table half_one (id int); select pg_sleep(1.5); create table whole_one (id int)'
    const slow = made('29990102000001_killed', sql)
    await killInTheMiddleOf(slow, known)
    expect(await historyOf()).not.toContain(slow.name)
    expect(await apply(...known, slow)).toEqual([slow.name])
    await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query(
        `select count(*)::int as tables from pg_tables where tablename in ('half_one', 'whole_one')`,
      )
      expect(rows[0].tables).toBe(2)
    })
  })

  it('lets two starts take turns, so that a file is applied once', async () => {
    const known = (await historyOf()).filter((name) => name.startsWith('2999')).map((name) => made(name, ''))
    const slow = made('29990103000000_slow', 'select pg_sleep(0.3); create table slow_one (id int)')
    const start = () =>
      withConnection(database.urls.admin, (client) =>
        withMigrationLock(client, () => applyMigrations(client, [...listMigrations(), ...known, slow])),
      )
    const results = await Promise.all([start(), start(), start()])
    expect(results.flat()).toEqual([slow.name])
  })
})
