import { DEMO_PASSWORD, DEMO_PEOPLE, type DemoPerson } from '@/prisma/seed/scenario'
import { createTestDatabase, type TestDatabase } from './clone'
import { startServer, type TestServer } from './server'

export type DemoServer = { server: TestServer; database: TestDatabase; stop: () => Promise<void> }

/** The demo as `npm run up` makes it today. */
export async function seedDemoInto(database: TestDatabase): Promise<void> {
  Object.assign(process.env, database.environment)
  const { seedDemo } = await import('@/prisma/seed/demo')
  const { todayIn } = await import('@/lib/platform/plain-date')
  const { disconnect } = await import('@/lib/platform/db')
  const { disconnectAuth } = await import('@/lib/platform/auth-database')
  await seedDemo({ anchorOn: todayIn('Europe/Berlin'), seed: 20_261 })
  await disconnect()
  await disconnectAuth()
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
