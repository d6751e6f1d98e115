import { randomBytes } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readManifest } from '@/lib/ops/backup/folder'
import { restoreBackup } from '@/lib/ops/backup/restore'
import { listTables, measure } from '@/lib/ops/backup/tables'
import { writeBackup } from '@/lib/ops/backup/write'
import { readCatalogue } from '@/lib/ops/database/catalogue.mjs'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { createDatabase, dropDatabase } from '@/lib/ops/database/prepare.mjs'
import { seedDemo } from '@/prisma/seed/demo'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { startServer } from '@/tests/support/server'

const database = requireDatabase()
const parent = fs.mkdtempSync(path.join(os.tmpdir(), 'oothecary-backup-'))
const folder = path.join(parent, 'whole')
const restored = `restored_${randomBytes(6).toString('hex')}`
const madeAt = '2026-05-01T08:00:00.000Z'

const urlFor = (name: string) => {
  const url = new URL(database.urls.admin)
  url.pathname = `/${name}`
  return url.href
}
const passwords = () => JSON.parse(process.env.TEST_PASSWORDS ?? '{}')
const write = (to: string, url = database.urls.backup) =>
  writeBackup({ url, linkKey: 'key', folder: to, madeAt })
const restoreInto = (name: string, from: string) =>
  restoreBackup(from, { adminUrl: urlFor(name), passwords: passwords() })

async function into<T>(name: string, work: () => Promise<T>): Promise<T> {
  await createDatabase(database.urls.admin, name)
  try {
    return await work()
  } finally {
    await dropDatabase(database.urls.admin, name)
  }
}

beforeAll(async () => {
  await seedDemo({ anchorOn: '2026-05-01', seed: 7 })
  await write(folder)
  await createDatabase(database.urls.admin, restored)
  await restoreInto(restored, folder)
})

afterAll(async () => {
  await dropDatabase(database.urls.admin, restored)
  fs.rmSync(parent, { recursive: true, force: true })
})

describe('a backup of two workspaces', () => {
  it('comes back with the same rows in every table of each workspace', async () => {
    const measured = await Promise.all(
      [database.urls.admin, urlFor(restored)].map((url) =>
        withClient(url, async (client) => measure(client, await listTables(client))),
      ),
    )
    expect(measured[1]).toEqual(measured[0])
    expect(Object.keys(measured[0]?.individual ?? {})).toHaveLength(2)
  })

  it('comes back with the same locks: policies, triggers, constraints, grants', async () => {
    const [before, after] = await Promise.all(
      [database.urls.admin, urlFor(restored)].map((url) => withConnection(url, readCatalogue)),
    )
    expect(after).toBe(before)
    expect(before).toContain('force row security')
  })

  it('is a database that the service starts on', async () => {
    const urls = Object.fromEntries(
      Object.entries(database.environment)
        .filter(([name]) => name.endsWith('_DATABASE_URL'))
        .map(([name, url]) => [name, url.replace(database.name, restored)]),
    )
    const server = await startServer(database, urls)
    try {
      const health = await fetch(`${server.address}/api/health`)
      expect(health.status).toBe(200)
    } finally {
      await server.stop()
    }
  })

  it('is one moment: a count and its entries never come from different times', async () => {
    const name = path.join(parent, 'busy')
    let isOver = false
    const busy = withClient(database.urls.admin, async (client) => {
      while (!isOver) {
        await client.query('begin')
        await client.query(`insert into throttle (key, points) values ('backup-' || gen_random_uuid(), 1)`)
        await client.query('commit')
      }
    })
    await write(name)
    isOver = true
    await busy
    await into(`${restored}_busy`, () => restoreInto(`${restored}_busy`, name))
  })
})

describe('a restore that must not go well', () => {
  it('refuses a file that was changed', async () => {
    const broken = path.join(parent, 'broken')
    fs.cpSync(folder, broken, { recursive: true })
    const other = readManifest(broken).tables.find(({ name }) => name === 'species')
    fs.copyFileSync(path.join(broken, 'zone.copy.gz'), path.join(broken, other?.file ?? ''))
    await into(`${restored}_broken`, () =>
      expect(restoreInto(`${restored}_broken`, broken)).rejects.toThrow(),
    )
  })

  it('notices rows that are missing although every file is whole', async () => {
    const short = path.join(parent, 'short')
    fs.cpSync(folder, short, { recursive: true })
    const manifest = readManifest(short)
    for (const counted of Object.values(manifest.checksums.zone ?? {})) counted.rows += 1
    fs.writeFileSync(path.join(short, 'manifest.json'), JSON.stringify(manifest))
    await into(`${restored}_short`, () =>
      expect(restoreInto(`${restored}_short`, short)).rejects.toThrow(/not those of the backup: zone/),
    )
  })

  it('refuses a backup of a newer version, and a folder that is none', async () => {
    const newer = path.join(parent, 'newer')
    fs.cpSync(folder, newer, { recursive: true })
    const manifest = readManifest(newer)
    manifest.migrations.push('29990101000000_later')
    fs.writeFileSync(path.join(newer, 'manifest.json'), JSON.stringify(manifest))
    await expect(restoreInto('none', newer)).rejects.toThrow(/newer version/)
    await expect(restoreInto('none', parent)).rejects.toThrow(/is no backup/)
  })

  it('leaves no half folder behind when the backup role may not read past the locks', async () => {
    const name = path.join(parent, 'forbidden')
    await expect(write(name, database.urls.app)).rejects.toThrow(/alter role oothecary_backup bypassrls/)
    expect(fs.readdirSync(parent).filter((each) => each.startsWith('forbidden'))).toEqual([])
  })
})
