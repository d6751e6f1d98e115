import { afterAll, beforeAll } from 'vitest'
import { createTestDatabase, type TestDatabase } from './clone'

/**
 * For the top of a test file: one database for the file, named in process.env before the first query, gone
 * after the last. The returned object is filled when the tests run.
 */
export function requireDatabase(): TestDatabase {
  const holder = {} as TestDatabase
  beforeAll(async () => {
    Object.assign(holder, await createTestDatabase())
    Object.assign(process.env, holder.environment)
  })
  afterAll(async () => {
    const { disconnect } = await import('@/lib/platform/db')
    const { disconnectAuth } = await import('@/lib/platform/auth-database')
    await disconnect()
    await disconnectAuth()
    await holder.drop()
  })
  return holder
}
