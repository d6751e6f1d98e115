import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  DESK,
  expectSoundPage,
  openBrowser,
  openDevice,
  PHONE,
  readDisk,
  signIn,
} from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'

let demo: DemoServer
let browser: Browser
let context: BrowserContext
let page: Page
let complaints: string[]
let base: string
let labels: string[]
let boxPage: string
beforeAll(async () => {
  demo = await startDemoServer()
  browser = await openBrowser()
  ;({ context, page, complaints } = await openDevice(browser))
  base = `${demo.server.address}/w/larch-lane-mantids/sales`
  await signIn(page, demo.server.address, demoSignIn('mara'))
})
afterAll(async () => {
  await browser.close()
  await demo.server.stop()
  await demo.stop()
})

const picture = async (name: string) => {
  const folder = process.env.SHOW_BOX_PICTURES
  if (!folder) return
  for (const viewport of [DESK, PHONE]) {
    await page.setViewportSize(viewport)
    await page.screenshot({ path: `${folder}/${name}-${viewport.width}.png`, fullPage: true })
  }
  await page.setViewportSize(DESK)
}

async function sell(label: string | undefined, more: { buyer?: string } = {}) {
  await page.getByLabel('Label or species').fill(String(label))
  await page.keyboard.press('Enter')
  await page.getByLabel('Price', { exact: true }).fill('20')
  const why = page.getByLabel('Why it leaves all the same')
  if (await why.count()) await why.fill('The buyer knows.')
  if (more.buyer) {
    await page.getByText('In a name, or with a note').click()
    await page.getByLabel('Name on the receipt').fill(more.buyer)
  }
  await page.getByLabel('Handed over').fill('50')
  await page.getByRole('button', { name: 'Sell it' }).click()
  await page.getByRole('button', { name: 'Next customer' }).waitFor()
}

async function sellOther(what: string) {
  await page.getByRole('button', { name: 'Sell something that is not in the box' }).click()
  await page.getByLabel('What it is').fill(what)
  await page.getByLabel('Price for one').fill('2')
  await page.getByLabel('Handed over').fill('2')
  await page.getByRole('button', { name: 'Sell it' }).click()
  await page.getByRole('button', { name: 'Next customer' }).waitFor()
}

describe('a show box', () => {
  test('is packed with animals that stay as they are, and its papers are one print job', async () => {
    await page.goto(`${base}/boxes`)
    await page.getByRole('button', { name: 'Pack a box' }).first().click()
    const dialog = page.getByRole('dialog')
    await dialog.getByLabel('Which show').fill('Autumn fair')
    await dialog.getByLabel('How many animals').fill('4')
    await dialog.getByLabel('Deutsch').check()
    await expectSoundPage(page, 'packing a box')
    await picture('pack')
    await dialog.getByRole('button', { name: 'Choose the animals' }).click()
    await page.getByRole('heading', { name: 'Autumn fair' }).waitFor()
    boxPage = page.url()
    labels = (await page.getByRole('main').innerText()).match(/\b[A-Z]\d[A-Z] \d{2,4}\b/g) ?? []
    expect(labels).toHaveLength(4)
    await expectSoundPage(page, 'a show box')
    await picture('box')
    const file = await page.request.get(`${boxPage}/papers.pdf?file=1`)
    expect((await file.body()).subarray(0, 5).toString()).toBe('%PDF-')
    await page.goto(`${base}/boxes`)
    await expectSoundPage(page, 'the boxes')
    await picture('boxes')
  })

  test('sells without a connection in a series of its own, after the page was closed as well', async () => {
    await page.goto(boxPage)
    await page.getByRole('link', { name: 'Open on this device' }).click()
    await page.getByText('All sent').waitFor({ timeout: 60_000 })
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready
    })
    await expectSoundPage(page, 'the stall')
    await picture('stall')
    const address = page.url()
    await context.setOffline(true)
    await page.close()
    page = await context.newPage()
    page.setDefaultTimeout(15_000)
    await page.goto(address)
    await sell(labels[0], { buyer: 'Hanna Hall' })
    await page.getByRole('heading', { name: 'Receipt S1A-1' }).waitFor()
    expect(await page.getByRole('main').innerText()).toMatch(/Change\s+€30\.00/)
    await expectSoundPage(page, 'a receipt of the stall')
    await picture('receipt')
    await page.getByRole('button', { name: 'Next customer' }).click()
    await sell(labels[1])
    await page.getByRole('button', { name: 'Next customer' }).click()
    await page.getByText('2 receipts waiting to be sent').waitFor()
    // Sold is sold: the same cup is not offered again.
    await page.getByLabel('Label or species').fill(String(labels[0]))
    await page.keyboard.press('Enter')
    await page.getByText('on a receipt of this device already').waitFor()
    await page.getByLabel('Label or species').fill('')
    await picture('stall-offline')
    expect(await readDisk(page, 'stall')).toContain('Hanna Hall')
  })

  test('keeps a receipt that was written for an animal which was sold elsewhere meanwhile, and says so', async () => {
    const other = await openDevice(browser)
    await signIn(other.page, demo.server.address, demoSignIn('mara'))
    await other.page.goto(`${base}/counter?codes=${labels[1]?.replace(' ', '')}`)
    await other.page.getByLabel('Price', { exact: true }).fill('25')
    const why = other.page.getByLabel('Why it leaves all the same')
    if (await why.count()) await why.fill('The buyer knows.')
    await other.page.getByRole('button', { name: 'Sell it' }).click()
    await other.page.waitForURL(/sales\/[0-9a-f-]{36}/)
    await other.context.close()
    await context.setOffline(false)
    await page.getByText('All sent').waitFor({ timeout: 90_000 })
    await page.getByText(/was sold .* as well/).waitFor()
    expect(await readDisk(page, 'stall')).not.toContain('Hanna Hall')
    await expectSoundPage(page, 'what the stall has sent')
    await picture('stall-sent')
  })

  test('sells on where it was signed out elsewhere, under the next number, and keeps what was being typed', async () => {
    const shell = await context.newPage()
    await shell.goto(base)
    await shell.getByRole('button', { name: 'Sign out' }).first().click()
    await shell.waitForURL((url) => url.pathname === '/')
    await shell.close()
    await page.evaluate(() => window.dispatchEvent(new Event('online')))
    await page.getByText('Nobody is signed in on this device.').waitFor()
    await sellOther('Two cups')
    await page.getByRole('heading', { name: 'Receipt S1A-3' }).waitFor()
    await page.getByRole('button', { name: 'Next customer' }).click()
    await page.getByRole('button', { name: 'Sell something that is not in the box' }).click()
    await page.getByLabel('What it is').fill('A half-typed thing')
    await page.getByRole('button', { name: 'Sign in', exact: true }).click()
    await page.getByLabel('Password').fill(demoSignIn('mara').password)
    await page.getByRole('button', { name: 'Sign in and send' }).click()
    await page.getByText('All sent').waitFor({ timeout: 90_000 })
    expect(await page.getByLabel('What it is').inputValue()).toBe('A half-typed thing')
    await page.goto(base)
    await page.getByText('S1A-3').first().waitFor()
    await page.goto(boxPage)
  })

  test('is settled by one scan, and the device gives everything up when it is signed out', async () => {
    await page.goto(boxPage)
    await page.getByLabel('Labels of every cup that came home').fill(String(labels[2]))
    await page.getByRole('button', { name: 'Settle the box' }).click()
    await page.getByText('1 came home, 2 were sold, 1 missing.').waitFor()
    await expectSoundPage(page, 'a settled box')
    await picture('settled')
    await page
      .getByRole('button', { name: /Sign out/ })
      .first()
      .click()
    await page.waitForURL((url) => url.pathname === '/')
    const disk = await readDisk(page, 'stall')
    for (const said of ['Autumn fair', 'S1A', 'mara@', ...labels]) expect(disk).not.toContain(said)
  })

  test('never had anything to complain about on the way', () => {
    expect(complaints.filter((said) => !/ERR_INTERNET_DISCONNECTED/.test(said))).toEqual([])
  })
})
