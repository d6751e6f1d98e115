import type { Browser, Page } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { openBrowser, openDevice } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'

/** The main job with the keys alone: no pointer is ever used, and the focus can always be seen. */
describe('with the keyboard alone', () => {
  let browser: Browser
  let demo: DemoServer
  let page: Page

  beforeAll(async () => {
    demo = await startDemoServer()
    browser = await openBrowser()
    page = (await openDevice(browser)).page
    return async () => {
      await browser.close()
      await demo.stop()
    }
  })

  it('a keeper signs in', async () => {
    await page.goto(`${demo.server.address}/sign-in`)
    const { email, password } = demoSignIn('jonas')
    await tabTo(page, /mail/i)
    await page.keyboard.type(email)
    await tabTo(page, /password/i)
    await page.keyboard.type(password)
    await page.keyboard.press('Enter')
    await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'))
  })

  it('records an egg case, its hatch, and parts three nymphs at the bench', async () => {
    await page.goto(`${demo.server.address}/w/larch-lane-mantids`)
    await tabTo(page, /^Egg cases$/)
    await page.keyboard.press('Enter')
    await page.waitForURL(/egg-cases$/)
    await tabTo(page, /^Record an egg case$/)
    await page.keyboard.press('Enter')
    await page.waitForURL(/egg-cases\/new$/)
    await tabTo(page, /^Species/)
    await page.keyboard.type('Miomantis')
    await tabTo(page, /^Where it hangs/)
    await page.keyboard.type('Warm')
    await tabTo(page, /^Record it$/)
    await page.keyboard.press('Enter')
    await page.waitForURL(/egg-cases\/[0-9a-f-]{36}/)
    await tabTo(page, /^Record (a |the )?hatch$/i)
    await page.keyboard.press('Enter')
    await tabTo(page, /^How many/)
    await page.keyboard.type('12')
    await page.keyboard.press('Enter')
    await page.waitForURL(/clutches\/[0-9a-f-]{36}/)
    const clutch = page.url()
    await page.goto(`${clutch}/bench`)
    await tabTo(page, /^To the bench$/)
    await page.keyboard.press('Enter')
    await page.waitForURL(/bench#[0-9a-f-]{36}/)
    await page.locator('[data-count]').waitFor()
    for (const key of ['Space', 'Enter', 'Space']) {
      await page.keyboard.press(key)
      await page.waitForTimeout(400)
    }
    await expect.poll(() => page.locator('[data-count]').innerText()).toMatch(/^3\b/)
    await tabTo(page, /^Finish$/)
    await page.keyboard.press('Enter')
    await page.getByRole('link', { name: 'Print labels' }).waitFor({ timeout: 60_000 })
  })
})

/** Presses Tab until the focused thing says so; every stop on the way has to show that it has the focus. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let stop = 0; stop < 80; stop++) {
    await page.keyboard.press('Tab')
    const focused = await page.evaluate(() => {
      const element = document.activeElement
      if (!(element instanceof HTMLElement) || element === document.body) return null
      const labels = 'labels' in element && element.labels instanceof NodeList ? [...element.labels] : []
      const style = getComputedStyle(element)
      const said = labels.map((label) => label.textContent).join(' ') || element.getAttribute('aria-label')
      return {
        name: (said || element.textContent || '').trim(),
        // Inside a date box the browser marks the part that has the focus: day, month or year.
        isShown:
          style.outlineStyle !== 'none' || style.boxShadow !== 'none' || element.matches('[type=date]'),
      }
    })
    if (!focused) continue
    expect(focused.isShown, `the focus can be seen on “${focused.name}”`).toBe(true)
    if (name.test(focused.name)) return
  }
  throw new Error(`no stop of the Tab key says ${name}`)
}
