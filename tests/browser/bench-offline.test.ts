import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { countOnScreen, openBench, readKept, startRun, tap, waitForCopy } from '@/tests/support/bench'
import { expectSoundPage, openBrowser, openDevice, PHONE, readDisk, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'
import { startServer, type TestServer } from '@/tests/support/server'

let demo: DemoServer
let server: TestServer
let browser: Browser
beforeAll(async () => {
  demo = await startDemoServer()
  server = demo.server
  browser = await openBrowser()
})
afterAll(async () => {
  await browser.close()
  await server.stop()
  await demo.stop()
})

const open = (page: Page, clutch: string) =>
  openBench(page, { address: server.address, person: demoSignIn('mara'), clutch })

/** What the service has of the run that is open, in its own words. */
async function recorded(page: Page): Promise<{ housed: number; dead: number; together: number }> {
  const [workspace, run] = new URL(page.url()).hash.slice(1).split('/')
  const said = await page.request.get(
    `${server.address}/api/bench/runs/${run}/standing?workspace=${workspace}`,
  )
  return (await said.json()).standing
}

describe('the bench without a connection', () => {
  test('opens from the device after its page was closed, counts on, and everything arrives once', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await open(page, 'C-9')
    await waitForCopy(page)
    await tap(page, 2)
    await page.getByText('All sent').waitFor()
    const address = page.url()
    await context.setOffline(true)
    await tap(page, 2)
    await page.close()

    const again = await context.newPage()
    await again.goto(address)
    await again.getByText('One in a cup').waitFor()
    expect(await countOnScreen(again)).toBe(4)
    await tap(again, 2)
    await again.getByRole('button', { name: 'Undo' }).click()
    expect(await countOnScreen(again)).toBe(5)
    await again.getByText(/5 waiting to send/).waitFor()
    await expectSoundPage(again, 'the bench without a connection')
    await again.goto(`${server.address}/bench`)
    await again.getByRole('link', { name: /C-9/ }).waitFor()
    await again.getByText('This page opens without a connection.').waitFor()
    await expectSoundPage(again, 'what the device has')
    await again.getByRole('link', { name: /C-9/ }).click()
    await again.getByText('One in a cup').waitFor()
    expect(await countOnScreen(again)).toBe(5)
    await context.setOffline(false)
    await again.getByText('All sent').waitFor({ timeout: 40_000 })
    expect(await recorded(again)).toMatchObject({ housed: 5 })
    await context.close()
  })

  test('keeps the page and built files on the device, and nothing that belongs to anybody', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await open(page, 'C-10')
    await waitForCopy(page)
    await page.reload()
    await page.getByText('One in a cup').waitFor()
    const kept = await page.evaluate(async () => {
      const found: { path: string; text: string }[] = []
      for (const name of await caches.keys()) {
        const cache = await caches.open(name)
        for (const request of await cache.keys()) {
          const text = (await (await cache.match(request))?.text()) ?? ''
          found.push({ path: new URL(request.url).pathname, text })
        }
      }
      return found
    })
    expect(kept.map(({ path }) => path)).toContain('/bench')
    expect(kept.filter(({ path }) => path !== '/bench' && !path.startsWith('/_next/static/'))).toEqual([])
    for (const { path, text } of kept)
      expect([path, /Larch Lane|mara@|C-10/.test(text)]).toEqual([path, false])
    await context.close()
  })

  test('loses nothing when the server is killed in the middle and comes back', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await open(page, 'C-10')
    await waitForCopy(page)
    const before = Number((await page.getByText(/^\d+ still together$/).innerText()).split(' ')[0])
    await tap(page, 3)
    const port = new URL(server.address).port
    await server.kill()
    await tap(page, 3)
    await page.reload()
    await page.getByText('One in a cup').waitFor()
    await tap(page, 1)
    expect(await countOnScreen(page)).toBe(7)
    expect((await readKept(page)).length).toBeGreaterThanOrEqual(4)
    server = await startServer(demo.database, { PORT: port })
    await page.getByText('All sent').waitFor({ timeout: 60_000 })
    await page.getByText(`${before - 7} still together`).waitFor()
    expect(await recorded(page)).toMatchObject({ housed: 7, together: before - 7 })
    expect(await countOnScreen(page)).toBe(7)
    await context.close()
  })
})

describe('the bench over plain http', () => {
  test('says that it does not open without a connection', async () => {
    const plain = await openBrowser({ host: 'shelf.test' })
    const { page } = await openDevice(plain, { viewport: PHONE })
    await page.goto(server.address.replace('127.0.0.1', 'shelf.test').concat('/bench'))
    await page.getByText(/Over plain http this page cannot open without a connection/).waitFor()
    await expectSoundPage(page, 'the bench over plain http')
    await plain.close()
  })
})

describe('whose taps they are', () => {
  test('signed out in the middle, the bench counts on and sends after signing in on top of it', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await open(page, 'C-9')
    await tap(page, 1)
    await page.getByText('All sent').waitFor()
    await signOutElsewhere(context)
    await tap(page, 1)
    await page.getByText('Signed out. Go on counting.').waitFor()
    await expectSoundPage(page, 'the bench, signed out')
    expect(await countOnScreen(page)).toBe(2)
    await page.getByRole('button', { name: 'Sign in', exact: true }).click()
    await page.getByLabel('Password').fill(demoSignIn('mara').password)
    await page.getByRole('button', { name: 'Sign in and send' }).click()
    await page.getByText('All sent').waitFor()
    expect(await countOnScreen(page)).toBe(2)
    await context.close()
  })

  test('signed out elsewhere, a device keeps nothing personal but what was not sent, and loses no tap', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await open(page, 'C-9')
    await tap(page, 1)
    await page.getByText('All sent').waitFor()
    expect(await readDisk(page, 'bench')).toMatch(/Mara/)
    await signOutElsewhere(context)
    await page.getByText('Signed out. Go on counting.').waitFor()
    await expect.poll(() => readDisk(page, 'bench')).not.toMatch(/Mara|@|C-9/)
    await tap(page, 1)
    expect(await countOnScreen(page)).toBe(2)
    await expect.poll(() => readDisk(page, 'bench')).toMatch(/C-9/)
    await page.getByRole('button', { name: 'Sign in', exact: true }).click()
    await page.getByLabel('Password').fill(demoSignIn('mara').password)
    await page.getByRole('button', { name: 'Sign in and send' }).click()
    await page.getByText('All sent').waitFor()
    expect(await countOnScreen(page)).toBe(2)
    await context.close()
  })

  test('of somebody else are kept and named, and sent when she signs in again', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await open(page, 'C-9')
    const address = page.url()
    await context.setOffline(true)
    await tap(page, 2)
    await page.close()
    await context.setOffline(false)

    const shell = await context.newPage()
    await shell.goto(`${server.address}/w/larch-lane-mantids`)
    await shell.getByRole('button', { name: 'More' }).click()
    await shell.getByRole('button', { name: 'Sign out' }).click()
    await shell.getByText('2 entries at the bench are not sent').waitFor()
    await expectSoundPage(shell, 'signing out with entries at the bench')
    await shell.getByRole('button', { name: 'Sign out all the same' }).click()
    await shell.waitForURL(`${server.address}/`)

    await signIn(shell, server.address, demoSignIn('jonas'))
    await shell.goto(`${server.address}/bench`)
    await shell.getByText(/2 entries by Mara .* are kept on this device/).waitFor()
    await expectSoundPage(shell, 'entries kept for somebody else')
    await startRun(shell, server.address, { clutch: 'C-9', planned: 5 })
    await tap(shell, 1)
    await shell.getByText('All sent').waitFor()
    expect(await readKept(shell)).toHaveLength(2)

    await context.clearCookies()
    await signIn(shell, server.address, demoSignIn('mara'))
    await shell.goto(address)
    await shell.reload()
    await shell.getByText('All sent').waitFor()
    expect(await readKept(shell)).toHaveLength(0)
    expect(await countOnScreen(shell)).toBe(2)
    await context.close()
  })
})

describe('two people at one clutch', () => {
  test('see within seconds what the other has taken', async () => {
    const mara = await openDevice(browser, { viewport: PHONE })
    const jonas = await openDevice(browser, { viewport: PHONE })
    await open(mara.page, 'C-10')
    await openBench(jonas.page, { address: server.address, person: demoSignIn('jonas'), clutch: 'C-10' })
    const together = async (page: Page) =>
      Number((await page.getByText(/^\d+ still together$/).innerText()).split(' ')[0])
    const before = await together(mara.page)
    await tap(jonas.page, 3)
    await tap(mara.page, 2)
    for (const { page } of [mara, jonas])
      await expect.poll(() => together(page), { timeout: 20_000 }).toBe(before - 5)
    expect(await countOnScreen(mara.page)).toBe(2)
    expect(await countOnScreen(jonas.page)).toBe(3)
    await mara.context.close()
    await jonas.context.close()
  })
})

/** The session ends elsewhere: the cookie is still there, and worth nothing. */
async function signOutElsewhere(context: BrowserContext): Promise<void> {
  const page = await context.newPage()
  await page.goto(`${server.address}/w/larch-lane-mantids`)
  await page.getByRole('button', { name: 'More' }).click()
  await page.getByRole('button', { name: 'Sign out' }).click()
  await page.waitForURL(`${server.address}/`)
  await page.close()
}
