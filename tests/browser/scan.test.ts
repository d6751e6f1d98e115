import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'
import { filmLabel } from '@/tests/support/moving-picture'

let demo: DemoServer
let browser: Browser
const folder = mkdtempSync(path.join(tmpdir(), 'scan-'))
beforeAll(async () => {
  demo = await startDemoServer()
})
afterAll(async () => {
  await demo.stop()
  rmSync(folder, { recursive: true, force: true })
})

const place = () => `${demo.server.address}/w/larch-lane-mantids`

/** A device whose camera sees a text as a square code. */
async function openCamera(text: string, run: (page: Page, complaints: string[]) => Promise<void>) {
  const camera = path.join(folder, 'label.y4m')
  filmLabel(camera, text)
  browser = await openBrowser({ camera })
  const { page, context, complaints } = await openDevice(browser, { viewport: PHONE })
  await context.grantPermissions(['camera'], { origin: demo.server.address })
  await signIn(page, demo.server.address, demoSignIn('mara'))
  await page.goto(place())
  try {
    await run(page, complaints)
  } finally {
    await browser.close()
  }
}

/** The label of an animal that is here, as it is printed. */
async function readLabel(): Promise<string> {
  const plain = await openBrowser()
  const { page } = await openDevice(plain)
  await signIn(page, demo.server.address, demoSignIn('mara'))
  await page.goto(`${place()}/individuals`)
  const first = page.locator('main a[href*="/individuals/"]:not([href$="/new"])').first()
  const label = (await first.innerText()).match(/[A-Z0-9]{3} [A-Z0-9]{2,4}/)?.[0] ?? ''
  await plain.close()
  expect(label).not.toBe('')
  return label
}

describe('a label before the camera', () => {
  test('opens its animal, with nothing loaded from anywhere else', async () => {
    const label = await readLabel()
    await openCamera(`https://printed.example/w/larch-lane-mantids/c/${label}`, async (page, complaints) => {
      const asked: string[] = []
      page.on('request', (request) => asked.push(request.url()))
      await page.getByRole('button', { name: 'Scan', exact: true }).click()
      await page.waitForURL(/individuals\/[0-9a-f-]{36}/, { timeout: 60_000 })
      await page.getByRole('heading', { level: 1 }).filter({ hasText: label }).waitFor()
      expect(asked.some((url) => new URL(url).pathname === '/scanner/reader.wasm')).toBe(true)
      expect(asked.filter((url) => url.startsWith('http') && !url.startsWith(demo.server.address))).toEqual(
        [],
      )
      expect(complaints).toEqual([])
      // The camera is off again.
      expect(await page.locator('video').count()).toBe(0)
    })
  })

  test('goes on the receipt at the counter', async () => {
    const label = await readLabel()
    await openCamera(`https://printed.example/w/larch-lane-mantids/c/${label}`, async (page) => {
      await page.goto(`${place()}/sales/counter`)
      await page.getByRole('button', { name: 'Scan with the camera' }).click()
      await page.waitForURL(/codes=/, { timeout: 60_000 })
      await page.getByText(label).first().waitFor()
    })
  })

  test('of somebody else’s making is named, and the camera looks again', async () => {
    await openCamera('https://elsewhere.example/offer', async (page) => {
      await page.getByRole('button', { name: 'Scan', exact: true }).click()
      await page.getByText(/is no label of this service/).waitFor({ timeout: 60_000 })
      await page.locator('video').waitFor()
      await expectSoundPage(page, 'the camera over a page')
      await page.getByRole('button', { name: 'Not now' }).click()
      await expect.poll(() => page.locator('video').count()).toBe(0)
    })
  })
})

describe('without a camera', () => {
  test('the code can be typed', async () => {
    const plain = await openBrowser()
    const { page, context } = await openDevice(plain, { viewport: PHONE })
    await context.clearPermissions()
    await signIn(page, demo.server.address, demoSignIn('mara'))
    await page.goto(place())
    await page.getByRole('button', { name: 'Scan', exact: true }).click()
    await page.getByText(/The camera may not be used here|This device has no camera/).waitFor()
    await plain.close()
  })
})
