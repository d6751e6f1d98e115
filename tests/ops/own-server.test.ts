import { spawn } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { inProject } from '@/lib/ops/place.mjs'
import { startScratchCluster } from '@/lib/ops/testing/scratch.mjs'
import { withClient } from '@/tests/support/clone'
import { addressOf, makeDataFolder, removeDataFolder, startUp, type Up } from '@/tests/support/up'

// The life of an installation on a PostgreSQL of one's own, whose owner is no superuser.
let cluster: Awaited<ReturnType<typeof startScratchCluster>>
let ownerUrl: string
const dataFolder = makeDataFolder()
const ups: Up[] = []

beforeAll(async () => {
  cluster = await startScratchCluster()
  await withClient(cluster.adminUrl, async (client) => {
    await client.query(`create role breeder login createrole createdb password 'own'`)
    await client.query('create database shelf owner breeder')
  })
  const url = new URL(cluster.adminUrl)
  Object.assign(url, { username: 'breeder', password: 'own', pathname: '/shelf' })
  ownerUrl = url.href
})

afterAll(async () => {
  await removeDataFolder(dataFolder, ups)
  await cluster.remove()
})

function run(file: string, ...args: string[]): Promise<{ code: number | null; output: string }> {
  const child = spawn(process.execPath, [inProject('lib/ops/run.mjs'), `lib/ops/${file}`, ...args], {
    cwd: inProject(),
    env: { ...process.env, DATA_DIR: dataFolder, DATABASE_URL: ownerUrl },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let output = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (output += chunk))
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, output })))
}

const backupFolder = () => {
  const parent = path.join(dataFolder, 'backups')
  return path.join(parent, fs.readdirSync(parent)[0] ?? '')
}

const inShelf = (sql: string) =>
  withClient(cluster.adminUrl.replace('/postgres', '/shelf'), (client) => client.query(sql))

const namesOf = async (table: string) => {
  const { rows } = await inShelf(`select name from ${table} order by name`)
  return rows.map(({ name }) => name)
}

describe('a PostgreSQL of one’s own', () => {
  it('is filled and served from, with nothing embedded beside it', async () => {
    const up = startUp(dataFolder, { DATABASE_URL: ownerUrl, DEMO: 'on' })
    ups.push(up)
    await up.says('\nData: ')
    expect(up.output()).toContain('alter role oothecary_backup bypassrls;')
    expect((await fetch(`${addressOf(up)}/api/health`)).status).toBe(200)
    expect(fs.readdirSync(dataFolder).sort()).toEqual(['oothecary.json', 'running.json', 'secrets.json'])
    expect(await namesOf('workspace')).toEqual(['Larch Lane Mantids', 'The Glass Fern'])
  })

  it('is backed up only once a superuser has let the backup read everything', async () => {
    const refused = await run('backup.ts')
    expect(refused.code).toBe(1)
    expect(refused.output).toContain('alter role oothecary_backup bypassrls;')
    await withClient(cluster.adminUrl, (client) => client.query('alter role oothecary_backup bypassrls'))
    const done = await run('backup.ts')
    expect(done.output).toContain(`Backup written: ${backupFolder()}`)
    expect(done.code).toBe(0)
  })

  it('is not replaced while it serves', async () => {
    const refused = await run('restore.ts', backupFolder(), '--in-place')
    expect(refused.code).toBe(1)
    expect(refused.output).toContain('Stop Oothecary first')
  })

  it('goes back to a backup in place, keeping what was there under another name', async () => {
    ups[0]?.child.kill('SIGTERM')
    expect(await ups[0]?.ended).toBe(0)
    const before = await namesOf('person')
    await inShelf(`update person set name = 'spoilt'`)
    const restored = await run('restore.ts', backupFolder(), '--in-place')
    expect(restored.output).toMatch(/It is in place\..*oothecary_replaced_\d+/)
    expect(await namesOf('person')).toEqual(before)
    const up = startUp(dataFolder, { DATABASE_URL: ownerUrl })
    ups.push(up)
    await up.says('\nData: ')
    expect((await fetch(`${addressOf(up)}/api/health`)).status).toBe(200)
  })

  it('is told in a sentence about a command that was mistyped', async () => {
    const wrong = await run('backup.ts', '--too', 'elsewhere')
    expect(wrong.output).toContain("Unknown option '--too'")
    expect(wrong.output).not.toContain('    at ')
  })
})
