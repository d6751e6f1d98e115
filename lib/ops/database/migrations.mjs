// Applies prisma/migrations with `pg` alone and keeps Prisma's own bookkeeping table, so that
// `prisma migrate deploy` elsewhere agrees about what has been applied.
import { createHash, randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { inProject } from '../place.mjs'
import { Refusal, say } from '../say.mjs'
import { OWNER } from './connection.mjs'

const ADVISORY_LOCK = 72707369 // the number Prisma takes, so that both wait for each other
const LOCK_TIMEOUT = '15s'

const BOOKKEEPING = `create table if not exists _prisma_migrations (
  id varchar(36) primary key not null,
  checksum varchar(64) not null,
  finished_at timestamptz,
  migration_name varchar(255) not null,
  logs text,
  rolled_back_at timestamptz,
  started_at timestamptz not null default now(),
  applied_steps_count integer not null default 0
)`

/** @returns {{name: string, sql: string, checksum: string}[]} in the order in which they are applied */
export function listMigrations(folder = inProject('prisma/migrations')) {
  const entries = fs.readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory())
  return entries
    .map(({ name }) => name)
    .sort()
    .map((name) => {
      const bytes = fs.readFileSync(path.join(folder, name, 'migration.sql'))
      return { name, sql: bytes.toString('utf8'), checksum: createHash('sha256').update(bytes).digest('hex') }
    })
}

async function takeMigrationLock(client) {
  const ask = async () => {
    const { rows } = await client.query('select pg_try_advisory_lock($1) as got', [ADVISORY_LOCK])
    return rows[0].got
  }
  if (await ask()) return
  say('  Another migration is running on this database: waiting for it.')
  await client.query('select pg_advisory_lock($1)', [ADVISORY_LOCK])
}

/** Holds Prisma's migration lock for as long as the work takes. */
export async function withMigrationLock(client, work) {
  await takeMigrationLock(client)
  try {
    return await work()
  } finally {
    await client.query('select pg_advisory_unlock($1)', [ADVISORY_LOCK])
  }
}

async function asOwner(client, work) {
  await client.query('begin')
  try {
    await client.query(`set local role ${OWNER}`)
    await client.query(`set local lock_timeout = '${LOCK_TIMEOUT}'`)
    const value = await work()
    await client.query('commit')
    return value
  } catch (error) {
    await client.query('rollback')
    throw error
  }
}

async function loadHistory(client) {
  const { rows } = await client.query(
    `select migration_name as name, checksum, finished_at is not null as finished
     from _prisma_migrations where rolled_back_at is null`,
  )
  return new Map(rows.map((row) => [row.name, row]))
}

function checkHistory(history, migrations) {
  const known = new Map(migrations.map((migration) => [migration.name, migration]))
  for (const { name, checksum, finished } of history.values()) {
    const file = known.get(name)
    if (!file)
      throw new Refusal(
        `The database has the migration ${name}, which this version of Oothecary does not know: it was used with a newer version. Run that one.`,
      )
    if (!finished)
      throw new Refusal(
        `The migration ${name} was begun elsewhere and failed. Resolve it first: npx prisma migrate resolve`,
      )
    if (file.checksum !== checksum)
      throw new Refusal(
        `The migration ${name} was edited after it was applied. Applied files are never changed: put the old text back and write a new migration.`,
      )
  }
}

const endsTransaction = (sql) => /^\s*(begin|commit|rollback|start transaction)\s*;/im.test(sql)

async function applyMigration(client, migration) {
  if (endsTransaction(migration.sql))
    throw new Error('it begins or ends a transaction; each file runs in one of its own')
  await asOwner(client, async () => {
    await client.query(migration.sql)
    await client.query(`set local role ${OWNER}`)
    await client.query(
      `insert into public._prisma_migrations (id, checksum, finished_at, migration_name, applied_steps_count)
       values ($1, $2, now(), $3, 1)`,
      [randomUUID(), migration.checksum, migration.name],
    )
  })
}

/**
 * Applies what is missing, one transaction per file: after a failure everything before it stands.
 * @returns {Promise<string[]>} the names of what was applied
 */
export async function applyMigrations(client, migrations = listMigrations()) {
  await asOwner(client, () => client.query(BOOKKEEPING))
  const history = await loadHistory(client)
  checkHistory(history, migrations)
  const missing = migrations.filter(({ name }) => !history.has(name))
  for (const migration of missing) {
    try {
      await applyMigration(client, migration)
    } catch (error) {
      throw Object.assign(new Error(`The migration ${migration.name} failed: ${error.message}`), {
        code: error.code,
      })
    }
  }
  return missing.map(({ name }) => name)
}
