import { isDeepStrictEqual } from 'node:util'
import { roleUrls, withConnection } from '@/lib/ops/database/connection.mjs'
import { applyMigrations, listMigrations } from '@/lib/ops/database/migrations.mjs'
import { prepareDatabase } from '@/lib/ops/database/prepare.mjs'
import { Refusal } from '@/lib/ops/say.mjs'
import { type Manifest, readManifest } from './folder'
import { loadBackup } from './load'
import { listTables, measure, PLAIN_TEXT } from './tables'

type Passwords = Record<'app' | 'auth' | 'jobs' | 'backup', string>

/** The migrations the backup was written under; what came later is applied to the restored rows. */
function migrationsOf(manifest: Manifest) {
  const known = listMigrations()
  const unknown = manifest.migrations.filter((name) => !known.some((migration) => migration.name === name))
  if (unknown.length > 0) {
    throw new Refusal(
      `The backup was made by a newer version of Oothecary (it has ${unknown.join(', ')}). Restore it with that one.`,
    )
  }
  return known.filter(({ name }) => manifest.migrations.includes(name))
}

/** Every table and every workspace must come out as it went in. */
async function verify(url: string, manifest: Manifest): Promise<void> {
  await withConnection(url, async (client) => {
    await client.query(
      `begin isolation level repeatable read read only; ${PLAIN_TEXT}; set local row_security = off`,
    )
    const checksums = await measure(client, await listTables(client))
    await client.query('commit')
    if (isDeepStrictEqual(checksums, manifest.checksums)) return
    const differing = Object.keys(manifest.checksums).filter(
      (table) => !isDeepStrictEqual(checksums[table], manifest.checksums[table]),
    )
    throw new Refusal(`The restored rows are not those of the backup: ${differing.join(', ')}.`)
  })
}

/**
 * Restores into an empty database and compares every table of every workspace with the backup.
 * @param adminUrl of that database
 */
export async function restoreBackup(
  folder: string,
  { adminUrl, passwords }: { adminUrl: string; passwords: Passwords },
): Promise<Manifest> {
  const manifest = readManifest(folder)
  const migrations = migrationsOf(manifest)
  await prepareDatabase(adminUrl, passwords, migrations)
  await withConnection(adminUrl, (client) => loadBackup(client, folder, manifest))
  await verify(roleUrls(adminUrl, passwords).backup, manifest)
  await withConnection(adminUrl, (client) => applyMigrations(client))
  return manifest
}
