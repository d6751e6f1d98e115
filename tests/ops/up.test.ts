import fs from 'node:fs'
import http from 'node:http'
import net from 'node:net'
import path from 'node:path'
import { afterAll, afterEach, describe, expect, it } from 'vitest'
import { embeddedUrl } from '@/lib/ops/database/connection.mjs'
import { readPort } from '@/lib/ops/database/pid-file.mjs'
import { readProcess } from '@/lib/ops/process/life.mjs'
import { withClient } from '@/tests/support/clone'
import { findFreePort } from '@/tests/support/server'
import {
  addressOf,
  listChildren,
  makeDataFolder,
  removeDataFolder,
  startUp,
  type Up,
} from '@/tests/support/up'

const dataFolder = makeDataFolder()
const ups: Up[] = []

function start(more: Record<string, string> = {}): Up {
  const up = startUp(dataFolder, more)
  ups.push(up)
  return up
}

async function startReady(more: Record<string, string> = {}): Promise<Up> {
  const up = start(more)
  await up.says('\nData: ')
  return up
}

function adminUrl(): string {
  const secrets = JSON.parse(fs.readFileSync(path.join(dataFolder, 'secrets.json'), 'utf8'))
  return embeddedUrl(readPort(path.join(dataFolder, 'postgres')), secrets.passwords.superuser)
}

const noteInDatabase = (key: string) =>
  withClient(adminUrl(), (client) => client.query('insert into throttle (key, points) values ($1, 1)', [key]))

const notesInDatabase = () =>
  withClient(adminUrl(), async (client) => {
    const { rows } = await client.query(`select key from throttle where key like 'note %' order by key`)
    return rows.map(({ key }) => key)
  })

const isAnswering = async (address: string) =>
  fetch(`${address}/api/health`).then(
    (response) => response.status === 200,
    () => false,
  )

async function until(condition: () => Promise<boolean> | boolean, what: string): Promise<void> {
  const giveUpAt = Date.now() + 60_000
  while (!(await condition())) {
    if (Date.now() > giveUpAt) throw new Error(`waited in vain until ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

const isPortFree = (address: string) =>
  new Promise<boolean>((resolve) => {
    const socket = net.connect(Number(new URL(address).port), '127.0.0.1')
    socket.once('connect', () => socket.destroy() && resolve(false))
    socket.once('error', () => resolve(true))
  })

function readPostmaster(): number {
  return Number(fs.readFileSync(path.join(dataFolder, 'postgres/postmaster.pid'), 'utf8').split('\n')[0])
}

afterEach(async () => {
  for (const up of ups) {
    if (up.child.exitCode === null && up.child.signalCode === null) up.child.kill('SIGTERM')
    await up.ended
  }
})

afterAll(() => removeDataFolder(dataFolder, ups))

describe('npm run up', () => {
  it('makes the demo whole on its first start, even when it was killed in the middle of it', async () => {
    const first = start({ DEMO: 'on' })
    await first.says('filling the demo workspaces')
    await new Promise((resolve) => setTimeout(resolve, 1500))
    const [filling] = listChildren(first.child.pid ?? 0)
    expect(filling).toBeGreaterThan(0)
    // With a database that stands still it cannot end by having finished.
    const backends = listChildren(readPostmaster())
    for (const backend of backends) process.kill(backend, 'SIGSTOP')
    first.child.kill('SIGKILL')
    await first.ended
    try {
      await until(() => readProcess(filling ?? 0) === null, 'what filled the demo had ended as well')
    } finally {
      for (const backend of backends) if (readProcess(backend)) process.kill(backend, 'SIGCONT')
    }
    const second = await startReady({ DEMO: 'on' })
    expect(second.output()).toContain('filling the demo workspaces')
    expect(second.output()).toMatch(/Demo sign-in: mara@larch-lane\.example {2}password: \S+/)
    await withClient(adminUrl(), async (client) => {
      const { rows } = await client.query('select count(*)::int as workspaces from workspace')
      expect(rows[0].workspaces).toBe(2)
      const databases = await client.query(`select datname from pg_database where datname like 'oothecary%'`)
      expect(databases.rows).toEqual([{ datname: 'oothecary' }])
    })
    second.child.kill('SIGINT')
    expect(await second.ended).toBe(0)
  })

  it('keeps its secrets to its own user, and its database to this machine and to passwords', async () => {
    const up = await startReady()
    expect(fs.statSync(path.join(dataFolder, 'secrets.json')).mode & 0o777).toBe(0o600)
    await withClient(adminUrl(), async (client) => {
      const { rows } = await client.query(
        `select current_setting('listen_addresses') as addresses, current_setting('unix_socket_directories') as sockets,
                current_setting('data_checksums') as checksums, current_setting('fsync') as durable,
                (select array_agg(distinct auth_method) from pg_hba_file_rules) as methods`,
      )
      expect(rows[0]).toEqual({
        addresses: '127.0.0.1',
        sockets: '',
        checksums: 'on',
        durable: 'on',
        methods: ['scram-sha-256'],
      })
    })
    up.child.kill('SIGTERM')
    await up.ended
  })

  it('answers a second start with the address of the first', async () => {
    const first = await startReady()
    const second = start({ PORT: '1' })
    expect(await second.ended).toBe(0)
    expect(second.output()).toContain(`already running: ${addressOf(first)}`)
    first.child.kill('SIGTERM')
    await first.ended
  })

  it('keeps its records across a stop, and leaves no process behind', async () => {
    const first = await startReady()
    await noteInDatabase('note before a stop')
    const children = listChildren(first.child.pid ?? 0)
    expect(children).toHaveLength(2)
    first.child.kill('SIGTERM')
    expect(await first.ended).toBe(0)
    expect(fs.existsSync(path.join(dataFolder, 'postgres/postmaster.pid'))).toBe(false)
    expect(children.filter((pid) => readProcess(pid) !== null)).toEqual([])
    const second = await startReady()
    expect(await notesInDatabase()).toEqual(['note before a stop'])
    second.child.kill('SIGTERM')
    await second.ended
  })

  it('frees its port after a kill -9, keeps its records, and starts again at once', async () => {
    const first = await startReady()
    const address = addressOf(first)
    await noteInDatabase('note before a kill')
    first.child.kill('SIGKILL')
    await first.ended
    await until(() => isPortFree(address), 'the port was free')
    const second = await startReady({ PORT: new URL(address).port })
    expect(addressOf(second)).toBe(address)
    expect(await notesInDatabase()).toContain('note before a kill')
    second.child.kill('SIGTERM')
    await second.ended
  })

  it('starts a dead server, dead jobs and a dead database again', async () => {
    const up = await startReady()
    const address = addressOf(up)
    for (const child of listChildren(up.child.pid ?? 0)) process.kill(child, 'SIGKILL')
    await up.says('The web server died (SIGKILL); starting it again in 0.5 s.')
    await up.says('The jobs process died (SIGKILL); starting it again in 0.5 s.')
    await until(() => isAnswering(address), 'the server answered again')
    process.kill(readPostmaster(), 'SIGKILL')
    await up.says('The database has stopped; starting it again.')
    await until(() => isAnswering(address), 'the server reached its database again')
    up.child.kill('SIGTERM')
    expect(await up.ended).toBe(0)
  })

  it('finishes what is in flight on SIGTERM, and takes nothing new', async () => {
    const up = await startReady()
    const address = addressOf(up)
    const body = 'csrfToken=none&email=nobody%40example.org&password=wrong&json=true'
    const answered = new Promise<number | undefined>((resolve, reject) => {
      const headers = { 'content-type': 'application/x-www-form-urlencoded', 'content-length': body.length }
      const request = http.request(`${address}/api/auth/callback/credentials`, { method: 'POST', headers })
      request.once('error', reject)
      request.once('response', (response) =>
        response.resume().once('end', () => resolve(response.statusCode)),
      )
      request.write(body.slice(0, 10))
      setTimeout(() => up.child.kill('SIGTERM'), 500)
      setTimeout(() => request.end(body.slice(10)), 2500)
    })
    await up.says('Stopping (SIGTERM)')
    await until(() => isPortFree(address), 'nothing new was taken')
    expect(await answered).toBeLessThan(500)
    expect(await up.ended).toBe(0)
  })
})

describe('npm run up, when something is wrong', () => {
  it('names the port that is taken, and one that is free', async () => {
    const port = await findFreePort()
    const other = net.createServer().listen(port, '127.0.0.1')
    const up = start({ PORT: String(port) })
    expect(await up.ended).toBe(1)
    expect(up.output()).toMatch(
      new RegExp(`Port ${port} on 127.0.0.1 is taken by another program.*PORT=\\d+ npm run up`),
    )
    other.close()
  })

  it.each([
    [{ PORT: 'abc' }, 'PORT is "abc"; it must be a number'],
    [{ HOST: '10.99.98.97', PORT: '39999' }, 'HOST is "10.99.98.97", which is no address of this machine'],
    [{ DATABASE_URL: 'mysql://here/db' }, 'DATABASE_URL must look like'],
    [{ DATABASE_URL: 'postgresql://a:b@127.0.0.1:1/db' }, 'nothing answers at its address'],
    [{ PUBLIC_ADDRESS: 'shelf.example' }, 'it must start with http:// or https://'],
  ])('says in a sentence what is wrong with %o', async (settings, sentence) => {
    const up = start(settings as Record<string, string>)
    expect(await up.ended).toBe(1)
    expect(up.output()).toContain(sentence)
    expect(up.output()).not.toContain('    at ')
  })

  it('touches nothing in a folder that is not its own', async () => {
    const foreign = makeDataFolder()
    fs.mkdirSync(foreign)
    fs.writeFileSync(path.join(foreign, 'letters.txt'), 'mine')
    const up = startUp(foreign)
    expect(await up.ended).toBe(1)
    expect(up.output()).toContain('is not empty and was not made by Oothecary')
    expect(fs.readdirSync(foreign)).toEqual(['letters.txt'])
    await removeDataFolder(foreign, [up])
  })

  it('refuses data of another PostgreSQL, and a database whose secrets are gone', async () => {
    const file = path.join(dataFolder, 'postgres/PG_VERSION')
    fs.writeFileSync(file, '17\n')
    const older = start()
    expect(await older.ended).toBe(1)
    expect(older.output()).toContain('was made by PostgreSQL 17')
    fs.writeFileSync(file, '18\n')
    fs.renameSync(path.join(dataFolder, 'secrets.json'), path.join(dataFolder, 'secrets.aside'))
    const keyless = start()
    expect(await keyless.ended).toBe(1)
    expect(keyless.output()).toContain('secrets.json is gone')
    fs.renameSync(path.join(dataFolder, 'secrets.aside'), path.join(dataFolder, 'secrets.json'))
  })
})
