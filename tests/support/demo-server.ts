import { execFile } from 'node:child_process'
import path from 'node:path'
import { promisify } from 'node:util'
import { DEMO_PASSWORD, DEMO_PEOPLE, type DemoPerson } from '@/prisma/seed/scenario'
import { createTestDatabase, type TestDatabase } from './clone'
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

/** The production build with the demo in a database of its own, as a newcomer meets it. */
export async function startDemoServer(): Promise<DemoServer> {
  const database = await createTestDatabase()
  await seedDemoInto(database)
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
