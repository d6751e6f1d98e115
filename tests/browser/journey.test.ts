import type { Browser, Page } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { DESK, expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'

/**
 * The main job, end to end, as a breeder and a counter do it: an egg case, its hatch, the clutch parted at the bench,
 * a moult, a sale with its check of the day, the care sheet and the buyer's page.
 */
const SIZES = [
  { name: 'desk', viewport: DESK, theme: 'day' },
  { name: 'phone', viewport: PHONE, theme: 'rack' },
] as const

const PARTED = 6

describe.each(SIZES)('on a $name', ({ viewport, theme }) => {
  let browser: Browser
  let demo: DemoServer
  let page: Page
  let complaints: string[]
  let base: string
  let today: string
  const known = { clutch: '', animal: '', code: '', receipt: '' }

  beforeAll(async () => {
    demo = await startDemoServer()
    browser = await openBrowser()
    const device = await openDevice(browser, { viewport, theme })
    page = device.page
    complaints = device.complaints
    // A browser without a screen dies of a print dialogue over a PDF; what is looked at is what it would print.
    await page.addInitScript(() => {
      window.print = () => {}
    })
    base = `${demo.server.address}/w/larch-lane-mantids`
    today = new Intl.DateTimeFormat('en-CA', { timeZone: 'Europe/Berlin' }).format(new Date())
    await signIn(page, demo.server.address, demoSignIn('mara'))
    return async () => {
      await browser.close()
      await demo.stop()
    }
  })

  it('records an egg case, refuses a day that has not come, and keeps what was typed', async () => {
    await page.goto(`${base}/egg-cases/new`)
    await choose(page, 'Species', /Hierodula/)
    await choose(page, 'Where it hangs', /Warm shelf/)
    await page.getByLabel('Laid on').fill('2999-01-01')
    await page.getByRole('button', { name: 'Record it' }).click()
    await expect.poll(() => page.getByLabel('Laid on').getAttribute('aria-invalid')).toBe('true')
    expect(await page.getByLabel('Where it hangs').inputValue()).not.toBe('')
    await page.getByLabel('Laid on').fill(daysBefore(today, 40))
    await page.getByRole('button', { name: 'Record it' }).click()
    await page.waitForURL(/egg-cases\/[0-9a-f-]{36}/)
    expect(await page.getByRole('main').innerText()).toMatch(/hatch/i)
    await expectSoundPage(page, 'a new egg case')
  })

  it('records its hatch in two fields, and the clutch says until when they can stay together', async () => {
    await page
      .getByRole('button', { name: /record (the |a )?hatch/i })
      .first()
      .click()
    await page.getByLabel('Hatched on').fill(daysBefore(today, 3))
    await page.getByLabel('How many').fill('30')
    await page.getByRole('button', { name: 'Record hatch', exact: true }).last().click()
    await page.waitForURL(/clutches\/[0-9a-f-]{36}/)
    known.clutch = new URL(page.url()).pathname
    const text = await page.getByRole('main').innerText()
    expect(text).toContain('30')
    expect(text).toMatch(/due|apart|together until/i)
    await expectSoundPage(page, 'a new clutch')
  })

  it('parts siblings at the bench, one tap a cup, through a lost connection, with nothing lost or doubled', async () => {
    await page.goto(`${demo.server.address}${known.clutch}/bench`)
    await page.getByLabel('How many this time').fill(String(PARTED))
    await page.getByRole('button', { name: 'To the bench' }).click()
    await page.waitForURL(/bench#[0-9a-f-]{36}/)
    const surface = page.locator('[data-count]')
    await surface.waitFor()
    await expectSoundPage(page, 'the bench')
    for (let tap = 0; tap < PARTED; tap++) {
      if (tap === 2) await page.context().setOffline(true)
      if (tap === 5) await page.context().setOffline(false)
      await surface.click()
      await expect.poll(() => surface.innerText()).toMatch(new RegExp(`^${tap + 1}\\b`))
      await page.waitForTimeout(350)
    }
    await page.getByRole('button', { name: /^Dead/ }).click()
    await page.waitForTimeout(350) // a second touch within 300 ms is no touch
    await page.getByRole('button', { name: /^Undo/ }).click()
    await page.waitForTimeout(350)
    await page.getByRole('button', { name: 'Finish' }).click()
    await page.getByRole('link', { name: 'Print labels' }).waitFor({ timeout: 60_000 })
    const labels = await page.request.get(
      `${demo.server.address}${await page.getByRole('link', { name: 'Print labels' }).getAttribute('href')}`,
    )
    expect((await labels.body()).subarray(0, 5).toString()).toBe('%PDF-')
    await page.goto(`${demo.server.address}${known.clutch}`)
    const bar = await page.getByRole('main').innerText()
    expect(bar).toMatch(new RegExp(`\\b${30 - PARTED}\\b`))
    expect(bar).toMatch(new RegExp(`\\b${PARTED}\\b`))
    complaints.length = 0 // the browser itself complains about the connection that was cut
  })

  it('records a moult, and the animal shows its next window', async () => {
    await page.goto(`${base}/individuals`)
    const first = page.locator('main a[href*="/individuals/"]:not([href$="/new"])').first()
    known.animal = (await first.getAttribute('href')) ?? ''
    await page.goto(`${demo.server.address}${known.animal}`)
    known.code =
      (await page.getByRole('heading', { level: 1 }).innerText()).match(/[A-Z0-9]{3} [A-Z0-9]{2}/)?.[0] ?? ''
    expect(known.code).not.toBe('')
    await page.getByRole('button', { name: 'Record a moult' }).click()
    await page.getByLabel('Noticed on').fill('2999-01-01')
    await page.getByRole('button', { name: 'Record it' }).click()
    await expect.poll(() => page.getByLabel('Noticed on').getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel('Noticed on').fill(today)
    await page.getByRole('button', { name: 'Record it' }).click()
    await page.getByText('The moult is recorded').waitFor()
    await expect.poll(() => page.getByRole('main').innerText()).toMatch(/2nd instar/i)
    await expectSoundPage(page, 'an animal')
  })

  it('says at the counter that it should stay, sells it with a reason, and prints its sheet', async () => {
    await page.goto(`${base}/sales/counter`)
    await page.getByRole('textbox', { name: 'Label' }).fill(known.code)
    await page.keyboard.press('Enter')
    await page.getByText('should stay today').waitFor()
    await page.getByLabel('Price').fill('12.50')
    await page.getByRole('button', { name: 'Sell it' }).click()
    await expect
      .poll(() => page.getByLabel('Why it leaves all the same').getAttribute('aria-invalid'))
      .toBe('true')
    await page
      .getByLabel('Why it leaves all the same')
      .fill('The buyer keeps this species and collects in person.')
    await page.getByRole('button', { name: 'Sell it' }).click()
    await page.waitForURL(/sales\/[0-9a-f-]{36}/)
    known.receipt = page.url()
    expect(await page.getByRole('main').innerText()).toContain('12.50')
    await expectSoundPage(page, 'a receipt')
    await page.getByRole('button', { name: 'Print its care sheet' }).click()
    await expect
      .poll(() => page.locator('#printing-frame').getAttribute('src'))
      .toContain(`${known.animal.split('/').at(-1)}/care-sheet.pdf`)
    const sheet = await page.request.get(`${demo.server.address}${known.animal}/care-sheet.pdf`)
    expect(sheet.status(), await sheet.text()).toBe(200)
    expect(sheet.headers()['content-type']).toContain('application/pdf')
    expect((await sheet.body()).subarray(0, 5).toString()).toBe('%PDF-')
  })

  it('refuses to sell it a second time, in words, and finds another workspace’s animal nowhere', async () => {
    await page.goto(`${base}/sales/counter?codes=${known.code.replace(' ', '')}`)
    expect(await page.getByRole('main').innerText()).toMatch(/sold/i)
    expect(await page.getByRole('button', { name: 'Sell it' }).count()).toBe(0)
    const foreign = await page.goto(`${demo.server.address}/w/the-glass-fern/individuals`)
    expect(foreign?.status()).toBe(404)
    complaints.length = 0 // the 404 that was asked for
  })

  it('shows the buyer this animal’s page and nothing of the workspace', async () => {
    const token = await tokenOfSheet(demo)
    const stranger = await openDevice(browser, { viewport, theme })
    const answer = await stranger.page.goto(`${demo.server.address}/p/${token}`)
    expect(answer?.status()).toBe(200)
    const text = await stranger.page.locator('body').innerText()
    expect(text).toContain('Hierodula')
    expect(text).not.toContain('12.50')
    expect(text).not.toContain('Mara')
    await expectSoundPage(stranger.page, 'the public page')
    expect(stranger.complaints).toEqual([])
    expect((await stranger.page.goto(`${demo.server.address}/p/${token.slice(0, -1)}x`))?.status()).toBe(404)
    await stranger.context.close()
  })

  it('never had anything to complain about on the way', () => {
    expect(complaints).toEqual([])
  })
})

/** Chooses as a person does: by a part of what the choice says. */
async function choose(page: Page, label: string, words: RegExp): Promise<void> {
  const box = page.getByLabel(label, { exact: true })
  const value = await box.locator('option', { hasText: words }).first().getAttribute('value')
  await box.selectOption(value)
}

function daysBefore(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) - days * 86_400_000).toISOString().slice(0, 10)
}

/** The address behind the code on the newest sheet, as the sheet itself would print it. */
async function tokenOfSheet(demo: DemoServer): Promise<string> {
  const { withClient } = await import('@/tests/support/clone')
  Object.assign(process.env, demo.database.environment)
  const { publicLinkToken } = await import('@/lib/platform/secret')
  const rows = await withClient(demo.database.urls.admin, (client) =>
    client.query<{ id: string; generation: number }>(
      'select id, generation from public_link order by created_at desc',
    ),
  )
  const link = rows.rows[0]
  if (!link) throw new Error('no sheet was printed')
  return publicLinkToken(link.id, link.generation)
}
