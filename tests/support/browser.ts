import AxeBuilder from '@axe-core/playwright'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { expect } from 'vitest'

// Chromium otherwise asks its maker's hosts for updates at every start; nothing here leaves the machine.
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

export const PHONE = { width: 360, height: 740 }
export const DESK = { width: 1280, height: 900 }

/**
 * `camera`: a moving picture (.y4m) that its camera shows instead of a room. `host`: a name that leads to this machine
 * and that, unlike its own address, is nothing a browser trusts without https.
 */
export function openBrowser({ camera, host }: { camera?: string; host?: string } = {}): Promise<Browser> {
  const executablePath = process.env.TEST_CHROMIUM
  if (!executablePath)
    throw new Error('TEST_CHROMIUM is not set: browser tests are run by npm test -- tests/browser')
  const seen = camera
    ? [
        '--use-fake-device-for-media-stream',
        '--use-fake-ui-for-media-stream',
        `--use-file-for-fake-video-capture=${camera}`,
      ]
    : []
  const named = host ? [`--host-resolver-rules=MAP ${host} 127.0.0.1`] : []
  return chromium.launch({ executablePath, args: [...FLAGS, ...seen, ...named] })
}

export type Visit = { context: BrowserContext; page: Page; complaints: string[] }

/** A device of its own. What its console and its requests complain about is kept, and must stay empty. */
export async function openDevice(
  browser: Browser,
  { viewport = DESK, theme = 'day' as 'day' | 'rack' } = {},
): Promise<Visit> {
  const context = await browser.newContext({ viewport, colorScheme: theme === 'day' ? 'light' : 'dark' })
  const page = await context.newPage()
  page.setDefaultTimeout(15_000)
  const complaints: string[] = []
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()))
  page.on('pageerror', (error) => complaints.push(error.message))
  return { context, page, complaints }
}

export async function signIn(page: Page, address: string, person: { email: string; password: string }) {
  await page.goto(`${address}/sign-in`)
  await page.getByLabel(/mail/i).fill(person.email)
  await page.getByLabel(/password/i).fill(person.password)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'))
}

/** No accessibility complaint at level A or AA, nothing wider than the screen. */
export async function expectSoundPage(page: Page, name: string): Promise<void> {
  await settle(page)
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze()
  const found = violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`,
  )
  expect(found, `${name} is accessible`).toEqual([])
  const wider = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  )
  expect(wider, `${name} fits the screen`).toBeLessThanOrEqual(0)
}

/** A notice that is still fading in has, for a moment, less contrast than it is made with. */
async function settle(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const passing = document
      .getAnimations()
      .filter(({ effect }) => effect?.getTiming().iterations !== Infinity)
    await Promise.allSettled(passing.map(({ finished }) => finished))
  })
}

/** Everything that a page has on disk in one of its databases, as one text. */
export function readDisk(page: Page, database: 'bench' | 'stall'): Promise<string> {
  return page.evaluate(
    (name) =>
      new Promise<string>((resolve, reject) => {
        const opening = indexedDB.open(name)
        opening.onerror = () => reject(opening.error)
        opening.onsuccess = () => {
          const stores = [...opening.result.objectStoreNames]
          const transaction = opening.result.transaction(stores)
          const found = stores.map((store) => transaction.objectStore(store).getAll())
          transaction.oncomplete = () => {
            opening.result.close()
            resolve(JSON.stringify(found.map(({ result }) => result)))
          }
        }
      }),
    database,
  )
}
