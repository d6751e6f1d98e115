import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { countOnScreen, openBench as openAt, readKept, tap } from '@/tests/support/bench'
import { expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'

let demo: DemoServer
let browser: Browser
beforeAll(async () => {
  demo = await startDemoServer()
  browser = await openBrowser()
})
afterAll(async () => {
  await browser.close()
  await demo.stop()
})

const openBench = (page: Page, clutch: string) =>
  openAt(page, { address: demo.server.address, person: demoSignIn('mara'), clutch })

describe('the bench on a phone', () => {
  test('counts at once, loses its connection and the page, and every cup arrives once', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await openBench(page, 'C-9')
    await expectSoundPage(page, 'the bench')
    const surface = await page.locator('[data-count]').boundingBox()
    expect((surface?.x ?? 0) + (surface?.width ?? 999)).toBeLessThanOrEqual(PHONE.width)
    await tap(page, 3)
    expect(await countOnScreen(page)).toBe(3)
    await page.getByText('All sent').waitFor()

    await context.setOffline(true)
    await tap(page, 2)
    await page.getByRole('button', { name: 'Dead' }).click()
    expect(await countOnScreen(page)).toBe(5)
    await page.getByText(/3 waiting to send/).waitFor()
    const address = page.url()
    await page.close()

    await context.setOffline(false)
    const again = await context.newPage()
    await again.goto(address)
    await again.getByText('All sent').waitFor()
    expect(await countOnScreen(again)).toBe(5)
    await again.waitForTimeout(320)
    await again.getByRole('button', { name: 'Undo' }).click()
    await again.waitForTimeout(320)
    await tap(again, 1)
    expect(await countOnScreen(again)).toBe(6)
    await again.getByRole('button', { name: 'Finish' }).click()
    await again.getByRole('heading', { name: '6 animals in cups of their own' }).waitFor()
    await again.getByRole('link', { name: 'Print labels' }).waitFor()
    await expectSoundPage(again, 'the end of a run')
    const href = await again.getByRole('link', { name: 'Print labels' }).getAttribute('href')
    const labels = await again.request.get(`${demo.server.address}${href}`)
    expect(labels.headers()['content-type']).toBe('application/pdf')

    await again.getByRole('link', { name: 'To the clutch' }).click()
    await again.getByText('5 in cups of their own').waitFor()
    await expectSoundPage(again, 'the clutch')
    await context.close()
  })

  test('keeps what a counted clutch cannot hold, and raises the count when it is told to', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await signIn(page, demo.server.address, demoSignIn('mara'))
    await page.goto(`${demo.server.address}/w/larch-lane-mantids/clutches`)
    await page.getByRole('link', { name: 'C-9', exact: true }).click()
    await page.getByRole('button', { name: 'Count', exact: true }).click()
    await page.getByLabel('Counted together').fill('2')
    await page.getByRole('button', { name: 'Record count' }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    await page.getByRole('link', { name: 'Open the bench' }).click()
    await page.getByLabel('How many this time').fill('2')
    await page.getByRole('button', { name: 'To the bench' }).click()
    await tap(page, 4)
    expect(await countOnScreen(page)).toBe(4)
    await page.getByRole('button', { name: 'There were more: raise the count' }).click()
    await page.getByText('All sent').waitFor()
    expect(await countOnScreen(page)).toBe(4)
    await context.close()
  })
})

describe('the address the bench sends to', () => {
  test('takes JSON of a signed-in page of the service, and the same entries eight times at once only once', async () => {
    const { page, context } = await openDevice(browser)
    const url = `${demo.server.address}/api/bench`
    const stranger = await context.request.post(url, { data: {}, headers: { origin: demo.server.address } })
    expect(stranger.status()).toBe(401)
    await openBench(page, 'C-10')
    const foreign = await context.request.post(url, {
      data: {},
      headers: { origin: 'https://elsewhere.example' },
    })
    expect(foreign.status()).toBe(403)
    expect((await context.request.post(url, { data: { operations: [] } })).status()).toBe(403)
    await context.setOffline(true)
    await tap(page, 5)
    const kept = await readKept(page)
    await context.setOffline(false)
    expect(kept).toHaveLength(5)
    const sendings = await page.evaluate(sendEightTimes, kept)
    for (const index of kept.keys()) {
      const seen = sendings.map((answers) => answers[index])
      expect(seen.every((status) => status === 'applied' || status === 'already-applied')).toBe(true)
      expect(seen.filter((status) => status === 'applied').length).toBeLessThanOrEqual(1)
    }
    await page.getByText('All sent').waitFor()
    await page.getByRole('button', { name: 'Finish' }).click()
    await page.getByRole('link', { name: 'To the clutch' }).click()
    await page.getByText('5 in cups of their own').waitFor()
    await context.close()
  })
})

/** Runs in the page, so that its cookie and its Origin go along. */
async function sendEightTimes(operations: unknown[]): Promise<string[][]> {
  const send = async () => {
    const answer = await fetch('/api/bench', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ operations }),
    })
    const { answers } = await answer.json()
    return answers.map(({ status }: { status: string }) => status)
  }
  return Promise.all(Array.from({ length: 8 }, send))
}
