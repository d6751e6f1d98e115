import { execFile } from 'node:child_process'
import path from 'node:path'
import { promisify } from 'node:util'
import { DEMO_PASSWORD, DEMO_PEOPLE, type DemoPerson } from '@/prisma/seed/scenario'
import { createTestDatabase, type TestDatabase, withClient } from './clone'
import { startServer, type TestServer } from './server'

const projectFolder = path.resolve(import.meta.dirname, '../..')

export type DemoServer = { server: TestServer; database: TestDatabase; stop: () => Promise<void> }

/** The demo as `npm run up` makes it today, by the same command: settings are read once per process. */
export async function seedDemoInto(database: TestDatabase): Promise<void> {
  const args = [
    '--import',
    'tsx',
    'lib/ops/process/run-file.mjs',
    path.join(projectFolder, 'lib/ops/seed.ts'),
  ]
  const env = { ...process.env, ...database.environment, NODE_ENV: 'production' as const }
  await promisify(execFile)(process.execPath, args, { cwd: projectFolder, env })
}

const SEEDING_LOCK = 72707370

/**
 * Filling the demo takes many times as long as a copy of it, so the first file of a run that needs one fills it and all
 * of them copy it. Its days hang on the day it was filled, so the next day has one of its own.
 */
async function findFilledDemo(): Promise<string> {
  const name = `demo_${new Date().toISOString().slice(0, 10).replaceAll('-', '')}`
  const empty = await createTestDatabase()
  return withClient(empty.urls.admin.replace(empty.name, 'postgres'), async (client) => {
    await client.query('select pg_advisory_lock($1)', [SEEDING_LOCK])
    const { rowCount } = await client.query('select from pg_database where datname = $1', [name])
    if (rowCount) await empty.drop()
    else {
      await seedDemoInto(empty)
      await client.query(`alter database ${empty.name} rename to ${name}`)
    }
    return name
  })
}

/** The production build with the demo in a database of its own, as a newcomer meets it. */
export async function startDemoServer(): Promise<DemoServer> {
  const database = await createTestDatabase(await findFilledDemo())
  const server = await startServer(database)
  const stop = async () => {
    await server.stop()
    await database.drop()
  }
  return { server, database, stop }
}

export function demoSignIn(person: DemoPerson): { email: string; password: string } {
  return { email: DEMO_PEOPLE[person].email, password: DEMO_PASSWORD }
}
