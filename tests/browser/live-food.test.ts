import type { Browser, Page } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { todayIn } from '@/lib/platform/plain-date'
import { DESK, expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'

const today = todayIn('Europe/Berlin')

describe.each([
  ['desk', DESK],
  ['phone', PHONE],
] as const)('live food, on a %s', (_name, viewport) => {
  let browser: Browser
  let demo: DemoServer
  let page: Page
  let complaints: string[]
  let base: string

  beforeAll(async () => {
    demo = await startDemoServer()
    browser = await openBrowser()
    const device = await openDevice(browser, { viewport })
    page = device.page
    page.setDefaultTimeout(60_000)
    complaints = device.complaints
    base = `${demo.server.address}/w/larch-lane-mantids/live-food`
    await signIn(page, demo.server.address, demoSignIn('mara'))
    return async () => {
      await browser.close()
      await demo.stop()
    }
  })

  /** The mistake stands at its field, and what was typed is still there. */
  const expectMistake = async (label: string, message: string, typed: string) => {
    const field = page.getByRole('dialog').getByLabel(label, { exact: true })
    await expect.poll(() => field.getAttribute('aria-invalid')).toBe('true')
    expect(await field.inputValue()).toBe(typed)
    expect(await page.getByRole('dialog').innerText()).toContain(message)
  }

  it('a stock below nothing is refused at its field, and nothing else is lost', async () => {
    await page.goto(`${base}/prey/melanogaster`)
    await page.getByRole('button', { name: 'Count', exact: true }).click()
    await page.getByLabel('How many').fill('-5')
    await page.getByLabel('On', { exact: true }).fill(addDays(today, -1))
    await page.getByRole('button', { name: 'Record the count' }).click()
    await expectMistake('How many', 'Not below nothing.', '-5')
    expect(await page.getByLabel('On', { exact: true }).inputValue()).toBe(addDays(today, -1))
    await page.getByLabel('How many').fill('800')
    await page.getByRole('button', { name: 'Record the count' }).click()
    await page.getByText('Counted.').waitFor()
  })

  it('a jar cannot have been started tomorrow', async () => {
    await page.goto(`${base}/cultures`)
    await page.getByRole('button', { name: 'Jars started' }).click()
    await page.getByLabel('How many').fill('3')
    await page.getByLabel('Started on').fill(addDays(today, 1))
    await page.getByRole('button', { name: 'Record the start' }).click()
    await expectMistake('Started on', 'This day is in the future.', addDays(today, 1))
    expect(await page.getByLabel('How many').inputValue()).toBe('3')
  })

  it('a yield may be nothing, never below it', async () => {
    await page.goto(`${base}/prey/melanogaster`)
    await page.getByRole('button', { name: 'Change Yield of a culture' }).click()
    await page.getByLabel('Value').fill('-1')
    await page.getByLabel('Why').fill('tired flies')
    await page.getByRole('button', { name: 'Make it ours' }).click()
    await expectMistake('Value', 'Not below nothing.', '-1')
    expect(await page.getByLabel('Why').inputValue()).toBe('tired flies')
    await page.getByLabel('Value').fill('0')
    await page.getByRole('button', { name: 'Make it ours' }).click()
    await page.getByText('Changed. Plans follow it from now on.').waitFor()
  })

  it('without a shelf and with a line that gives nothing there is a plan for the rest, which says so', async () => {
    await page.goto(`${base}/bounds`)
    const places = page.getByLabel('Jars that can stand at once')
    // What is typed before the page is at work is typed over.
    await expect
      .poll(async () => {
        await places.fill('-1')
        return places.inputValue()
      })
      .toBe('-1')
    await page.getByRole('button', { name: 'Keep the limits' }).click()
    await expect.poll(() => places.getAttribute('aria-invalid')).toBe('true')
    expect(await places.inputValue()).toBe('-1')
    expect(await page.getByRole('main').innerText()).toContain('Not below nothing.')
    await places.fill('0')
    await page.getByRole('button', { name: 'Keep the limits' }).click()
    await page.getByText('Plans keep to it from now on.').waitFor()
    await page.goto(`${base}/plan`)
    await expect
      .poll(
        async () => {
          await page.reload()
          const ask = page.getByRole('button', { name: /^Plan (it|anew)$/ })
          const words = await page.getByRole('main').innerText()
          if (/There is no shelf place/.test(words)) return 'said'
          if (await ask.count()) await ask.click()
          return 'not yet'
        },
        { timeout: 300_000, interval: 8000 },
      )
      .toBe('said')
    const words = await page.getByRole('main').innerText()
    expect(words).toMatch(/There is no shelf place: nothing is started of .*hydei/)
    expect(words).not.toMatch(/Start \d+ jars?/)
    expect(words).toMatch(/Order \d+ packs? of/)
    await expectSoundPage(page, 'a plan without a shelf')
  }, 400_000)

  it('no line for a stage is named on the overview, with a way to one', async () => {
    await page.goto(`${base}/prey`)
    for (const name of ['Green bottle pupae', 'Blue bottle pupae']) {
      const entry = page.getByRole('listitem').filter({ hasText: name })
      await entry.getByRole('button').first().click()
      await page.waitForTimeout(1500)
    }
    await page.goto(base)
    await page
      .getByText(/^No line kept here feeds [A-Z]/)
      .first()
      .waitFor()
    await page.getByRole('link', { name: 'Choose a line' }).first().waitFor()
    await expectSoundPage(page, 'live food')
    expect(complaints).toEqual([])
  })
})
