import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { runOpenLoad } from '@/tests/support/open-load'
import { startServer, type TestServer } from '@/tests/support/server'

const database = requireDatabase()
let server: TestServer
beforeAll(async () => {
  server = await startServer(database)
})
afterAll(() => server.stop())

describe('the service in a burst of people who do not know of each other', () => {
  it('serves some, tells the others at once, breaks no line, and is there for the next', async () => {
    const url = `${server.address}/sign-in`
    expect((await fetch(url)).status).toBe(200)
    const told = await runOpenLoad({ url, headers: {}, perSecond: 600, seconds: 1 })
    const served = told.filter(({ status }) => status === 200)
    const refused = told.filter(({ status }) => status === 503)
    expect(served.length + refused.length).toBe(told.length)
    expect(refused.length).toBeGreaterThan(0)
    expect(served.length).toBeGreaterThan(0)
    const endOf = ({ atMs, tookMs }: { atMs: number; tookMs: number }) => atMs + tookMs
    expect(Math.min(...refused.map(endOf))).toBeLessThan(Math.max(...served.map(endOf)))
    expect((await fetch(url)).status).toBe(200)
    expect((await fetch(`${server.address}/api/health`)).status).toBe(200)
  })
})
