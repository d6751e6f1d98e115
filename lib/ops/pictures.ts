// npm run pictures: photographs the demo of the running installation for the README.
import { execFileSync } from 'node:child_process'
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { env } from '@/lib/platform/env'
import { DEMO_PASSWORD, DEMO_PEOPLE } from '@/prisma/seed/scenario'
import { findChromium } from './testing/chromium.mjs'

const FOLDER = path.resolve('.github/pictures')
const DESK = { width: 1280, height: 900 }
const PHONE = { width: 360, height: 740 }
const PLACE = '/w/larch-lane-mantids'

export async function main(): Promise<void> {
  const executablePath = findChromium()
  if (!executablePath) throw new Error('The pictures are taken with Chromium, and none was found.')
  mkdirSync(FOLDER, { recursive: true })
  const browser = await chromium.launch({
    executablePath,
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  })
  try {
    await takeDayPictures(browser)
    await takeNightPictures(browser)
  } finally {
    await browser.close()
  }
}

async function openSignedIn(browser: Browser, colorScheme: 'light' | 'dark', viewport = DESK): Promise<Page> {
  const page = await (await browser.newContext({ viewport, colorScheme })).newPage()
  await page.goto(`${env().PUBLIC_ADDRESS}/sign-in`)
  await page.getByLabel(/mail/i).fill(DEMO_PEOPLE.mara.email)
  await page.getByLabel(/password/i).fill(DEMO_PASSWORD)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'))
  return page
}

async function take(page: Page, name: string): Promise<void> {
  await page.screenshot({ path: path.join(FOLDER, `${name}.png`) })
  console.log(`  ${name}.png`)
}

async function takeDayPictures(browser: Browser): Promise<void> {
  const page = await openSignedIn(browser, 'light')
  await page.goto(env().PUBLIC_ADDRESS + PLACE)
  await take(page, 'day-sheet-day-1280')
  await page.goto(`${env().PUBLIC_ADDRESS}${PLACE}/individuals`)
  const animal = await page
    .locator('main a[href*="/individuals/"]:not([href$="/new"])')
    .first()
    .getAttribute('href')
  await page.goto(`${env().PUBLIC_ADDRESS}${animal}`)
  await take(page, 'animal-day-1280')
  const sheet = await page.request.get(`${env().PUBLIC_ADDRESS}${animal}/care-sheet.pdf`)
  const file = path.join(FOLDER, 'care-sheet.pdf')
  writeFileSync(file, await sheet.body())
  // Chromium shows a PDF in a frame of its own that cannot be photographed; poppler can, where it is installed.
  execFileSync('pdftoppm', ['-png', '-r', '80', '-singlefile', file, path.join(FOLDER, 'care-sheet')])
  rmSync(file)
  console.log('  care-sheet.png')
}

async function takeNightPictures(browser: Browser): Promise<void> {
  const page = await openSignedIn(browser, 'dark')
  await page.goto(`${env().PUBLIC_ADDRESS}${PLACE}/clutches`)
  const clutch = await page.locator('main a[href*="/clutches/"]').first().getAttribute('href')
  await page.goto(`${env().PUBLIC_ADDRESS}${clutch}`)
  await take(page, 'clutch-night-1280')
  const phone = await openSignedIn(browser, 'dark', PHONE)
  await phone.goto(`${env().PUBLIC_ADDRESS}${clutch}/bench`)
  await phone.getByRole('button', { name: 'To the bench' }).click()
  await phone.locator('[data-count]').waitFor()
  await take(phone, 'bench-night-360')
}
