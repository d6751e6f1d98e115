// From an empty database on some server to one that this version of the code can run on.
import { roleUrls, urlOfDatabase, withConnection } from './connection.mjs'
import { applyMigrations, listMigrations, withMigrationLock } from './migrations.mjs'
import { ensureQueue } from './queue.mjs'
import { ensureRoles } from './roles.mjs'

const asServer = (adminUrl, work) => withConnection(urlOfDatabase(adminUrl, 'postgres'), work)

export const hasDatabase = (adminUrl, name) =>
  asServer(adminUrl, async (client) => {
    const { rowCount } = await client.query('select from pg_database where datname = $1', [name])
    return rowCount === 1
  })

export const createDatabase = (adminUrl, name) =>
  asServer(adminUrl, (client) =>
    client.query(`create database ${client.escapeIdentifier(name)} template template0`),
  )

export const dropDatabase = (adminUrl, name) =>
  asServer(adminUrl, (client) =>
    client.query(`drop database if exists ${client.escapeIdentifier(name)} with (force)`),
  )

/** All names change together or none does: between two renames there would be no database of that name. */
export const renameDatabases = (adminUrl, renames) =>
  asServer(adminUrl, async (client) => {
    await client.query('select pg_terminate_backend(pid) from pg_stat_activity where datname = any($1)', [
      renames.map(({ from }) => from),
    ])
    await client.query('begin')
    for (const { from, to } of renames) {
      await client.query(
        `alter database ${client.escapeIdentifier(from)} rename to ${client.escapeIdentifier(to)}`,
      )
    }
    await client.query('commit')
  })

/**
 * Roles, extensions, queue, migrations: may be run on every start.
 * @returns {Promise<{applied: string[], kept: string[]}>} migrations applied; SQL this user may not run
 */
export function prepareDatabase(adminUrl, passwords, migrations = listMigrations()) {
  return withConnection(adminUrl, (client) =>
    withMigrationLock(client, async () => {
      const kept = await ensureRoles(client, { adminUrl, passwords })
      await ensureQueue(client, roleUrls(adminUrl, passwords).jobs)
      return { applied: await applyMigrations(client, migrations), kept }
    }),
  )
}
