// From an empty database on some server to one that this version of the code can run on.
import { roleUrls, urlOfDatabase, withConnection } from './connection.mjs'
import { applyMigrations, withMigrationLock } from './migrations.mjs'
import { ensureQueue } from './queue.mjs'
import { ensureRoles } from './roles.mjs'

export async function ensureDatabase(adminUrl, name) {
  await withConnection(urlOfDatabase(adminUrl, 'postgres'), async (client) => {
    const { rowCount } = await client.query('select from pg_database where datname = $1', [name])
    if (rowCount === 0)
      await client.query(`create database ${client.escapeIdentifier(name)} template template0`)
  })
}

/**
 * Roles, extensions, queue, migrations: may be run on every start.
 * @returns {Promise<{applied: string[], kept: string[]}>} migrations applied; SQL this user may not run
 */
export function prepareDatabase(adminUrl, passwords) {
  return withConnection(adminUrl, (client) =>
    withMigrationLock(client, async () => {
      const kept = await ensureRoles(client, { adminUrl, passwords })
      await ensureQueue(client, roleUrls(adminUrl, passwords).jobs)
      return { applied: await applyMigrations(client), kept }
    }),
  )
}
