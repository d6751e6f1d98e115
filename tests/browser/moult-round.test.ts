import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
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

describe('the moult round on a phone', () => {
  test('keeps skins tapped without a connection over a reload, and sends a shelf once', async () => {
    const { page, context } = await openDevice(browser, { viewport: PHONE })
    await signIn(page, demo.server.address, demoSignIn('jonas'))
    const address = `${demo.server.address}/w/larch-lane-mantids/moult-round`
    await page.goto(address)
    await expectSoundPage(page, 'the moult round')
    const shelf = page.getByRole('region', { name: 'Warm shelf, 1 litre jar' })
    const [first, second] = [shelf.getByRole('button').nth(0), shelf.getByRole('button').nth(1)]
    const code = (await first.locator('span').nth(1).textContent()) ?? ''
    await first.click()
    await page.waitForTimeout(320)
    await expectSoundPage(page, 'a cup with a skin')
    expect(await first.getAttribute('aria-pressed')).toBe('true')

    await context.setOffline(true)
    await second.click()
    await page.waitForTimeout(320)
    await second.click()
    await shelf.getByRole('button', { name: 'Shelf passed: 1 skin' }).click()
    await page.getByText('There is no connection to the service.').waitFor()
    await shelf.getByText('Passed, waiting to send.').waitFor()
    await page.close()

    await context.setOffline(false)
    const again = await context.newPage()
    await again.goto(address)
    await again.getByText(/Recorded: \d+ cups seen, 1 moult\./).waitFor()
    await expectSoundPage(again, 'a shelf that was passed')
    await again.goto(`${demo.server.address}/w/larch-lane-mantids/c/${code.replace(/\s/g, '')}`)
    await again
      .getByText(/soft until/)
      .first()
      .waitFor()
    await context.close()
  })
})
