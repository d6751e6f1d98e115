import type { Browser } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { DESK, expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'

const PLACES = [
  '',
  '/egg-cases',
  '/egg-cases/new',
  '/clutches',
  '/individuals',
  '/individuals/new',
  '/zones',
  '/incidents',
  '/containers',
  '/species',
  '/sales',
  '/sales/counter',
  '/sales/buyers',
  '/sales/holds',
  '/sales/for-sale',
  '/sales/prices',
  '/sales/registers',
  '/sales/till',
  '/people',
  '/settings',
  '/tokens',
  '/audit',
  '/mails',
]
// One of each kind, reached by the first link of its list.
const ENTRIES = ['/egg-cases', '/clutches', '/individuals', '/species', '/sales', '/zones', '/incidents']

describe.each([
  ['a desk by day', DESK, 'day'],
  ['a phone by day', PHONE, 'day'],
  ['a desk at night', DESK, 'rack'],
  ['a phone at night', PHONE, 'rack'],
] as const)('on %s', (_name, viewport, theme) => {
  let browser: Browser
  let demo: DemoServer

  beforeAll(async () => {
    demo = await startDemoServer()
    browser = await openBrowser()
    return async () => {
      await browser.close()
      await demo.stop()
    }
  })

  it('every page of the demo is accessible, fits, and has nothing to complain about', async () => {
    const { page, complaints } = await openDevice(browser, { viewport, theme })
    const base = `${demo.server.address}/w/larch-lane-mantids`
    await page.goto(`${demo.server.address}/sign-in`)
    await expectSoundPage(page, 'sign-in')
    await signIn(page, demo.server.address, demoSignIn('mara'))
    for (const place of PLACES) {
      const answer = await page.goto(base + place)
      expect(answer?.status(), place).toBe(200)
      await expectSoundPage(page, place || 'day sheet')
    }
    for (const place of ENTRIES) {
      await page.goto(base + place)
      const entry = page
        .locator(`main a[href^="/w/larch-lane-mantids${place}/"]:not([href$="/new"]):not([href$="/counter"])`)
        .first()
      const href = await entry.getAttribute('href')
      await page.goto(`${demo.server.address}${href}`)
      await expectSoundPage(page, `one of ${place}`)
    }
    expect(complaints).toEqual([])
  })
})
