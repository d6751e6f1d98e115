import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { applyEdits, buildCopy, copyProject, removeCopy } from '@/tests/removals/removal'
import { countOnScreen, openBench, tap, waitForCopy } from '@/tests/support/bench'
import { openBrowser, openDevice, PHONE } from '@/tests/support/browser'
import { createTestDatabase, type TestDatabase } from '@/tests/support/clone'
import { demoSignIn, seedDemoInto } from '@/tests/support/demo-server'
import { startServer, type TestServer } from '@/tests/support/server'

const NAME = 'new-build'
const HOUR_MS = 3_600_000
const CHANGED = 'in this run, as the newer build says it'

/** Another build of the same sources would be the same: so one line of what is seen is another. */
describe.runIf(process.env.TEST_LONG)('a new build in the middle of a run', () => {
  let database: TestDatabase
  let server: TestServer
  let browser: Browser
  let newer: string
  beforeAll(async () => {
    newer = copyProject(NAME)
    const edit = { path: 'components/bench/tap-area.tsx', find: '} in this run`', put: `} ${CHANGED}\`` }
    applyEdits(newer, { guard: NAME, tests: [], edits: [edit] })
    await buildCopy(newer)
    database = await createTestDatabase()
    await seedDemoInto(database)
    server = await startServer(database)
    browser = await openBrowser()
  }, HOUR_MS)
  afterAll(async () => {
    await browser.close()
    await server.stop()
    await database.drop()
    removeCopy(NAME)
  })

  test(
    'leaves the open bench counting, sends what it counted, and is there at the next loading, without a connection too',
    async () => {
      const { page, context } = await openDevice(browser, { viewport: PHONE })
      await openBench(page, { address: server.address, person: demoSignIn('mara'), clutch: 'C-9' })
      await waitForCopy(page)
      await tap(page, 2)
      await page.getByText('All sent').waitFor()
      const builds = await listCopies(page)
      await server.stop()
      await tap(page, 2)
      server = await startServer(database, { PORT: new URL(server.address).port, DIST_DIR: '.next' }, newer)
      await tap(page, 1)
      await page.getByText('All sent').waitFor({ timeout: 60_000 })
      expect(await countOnScreen(page)).toBe(5)

      await page.reload()
      await page.getByText(CHANGED).waitFor()
      expect(await countOnScreen(page)).toBe(5)
      await tap(page, 1)
      await page.getByText('All sent').waitFor()
      await context.setOffline(true)
      await page.reload()
      await page.getByText(CHANGED).waitFor()
      expect(await countOnScreen(page)).toBe(6)
      const address = page.url()
      await page.close()

      // The newer worker is fetched with a page that is opened, and waits as long as one of the older build is.
      await context.setOffline(false)
      const again = await context.newPage()
      await again.goto(address)
      await again.getByText(CHANGED).waitFor()
      await expect.poll(() => isNewerReady(again, builds), { timeout: 60_000 }).toBe(true)
      await again.close()

      // Once none is open, its copy goes; looked at from a page that no worker answers for.
      const beside = await context.newPage()
      await beside.goto(`${server.address}/sign-in`)
      const countOld = async () => (await listCopies(beside)).filter((copy) => builds.includes(copy)).length
      await expect.poll(countOld, { timeout: 60_000 }).toBe(0)
      expect(await listCopies(beside)).toHaveLength(1)
      await beside.goto(address)
      await beside.getByText(CHANGED).waitFor()
      await context.setOffline(true)
      await beside.reload()
      await beside.getByText(CHANGED).waitFor()
      expect(await countOnScreen(beside)).toBe(6)
      await context.close()
    },
    HOUR_MS,
  )
})

/** The newer worker has kept all it needs: it waits for its turn, or has had it already. */
function isNewerReady(page: Page, builds: readonly string[]): Promise<boolean> {
  return page.evaluate(async (older) => {
    const registration = await navigator.serviceWorker.getRegistration()
    const copies = await caches.keys()
    const isKept = copies.some((copy) => !older.includes(copy))
    return isKept && !registration?.installing && (registration?.waiting !== null || copies.length === 1)
  }, builds)
}

function listCopies(page: Page): Promise<string[]> {
  return page.evaluate(() => caches.keys())
}
