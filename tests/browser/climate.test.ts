import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { countOnScreen, openBench, tap } from '@/tests/support/bench'
import { DESK, expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'
import { startJobsProcess } from '@/tests/support/jobs-process'

let demo: DemoServer
let browser: Browser
let jobs: { stop(): Promise<void> }

beforeAll(async () => {
  demo = await startDemoServer()
  jobs = await startJobsProcess(demo.database, demo.server.address)
  browser = await openBrowser()
})
afterAll(async () => {
  await browser.close()
  await jobs.stop()
  await demo.stop()
})

const onWall = (options: Intl.DateTimeFormatOptions, at = new Date()) =>
  new Intl.DateTimeFormat('en-CA', { timeZone: 'Europe/Berlin', hourCycle: 'h23', ...options }).format(at)
const dayOf = (at: Date) => onWall({ year: 'numeric', month: '2-digit', day: '2-digit' }, at)

describe('a zone', () => {
  test('takes readings, and calls another open page when it gets too hot', async () => {
    const { page, context, complaints } = await openDevice(browser, { viewport: DESK })
    await signIn(page, demo.server.address, demoSignIn('jonas'))
    const base = `${demo.server.address}/w/larch-lane-mantids`
    await page.goto(`${base}/zones`)
    await page.getByRole('link', { name: 'Side room' }).click()
    await page.getByRole('img', { name: 'Temperature, day by day' }).filter({ visible: true }).waitFor()
    await expectSoundPage(page, 'a zone')

    const yesterday = dayOf(new Date(Date.now() - 86_400_000))
    await page.getByRole('textbox', { name: 'Day' }).fill(yesterday)
    await page.getByLabel('Time').fill('11:45')
    await page.getByLabel('Temperature', { exact: true }).fill('75')
    await page.getByRole('button', { name: 'Write it down' }).click()
    await page.getByText('75 °C? Read in °F it would be 23.9 °C.').first().waitFor()
    await page.getByText('°F', { exact: true }).click()
    await page.getByRole('button', { name: 'Write it down' }).click()
    await page.getByText('Written down. The forecasts count it.').waitFor()

    await page.getByRole('button', { name: 'Paste many readings' }).click()
    const dialog = page.getByRole('dialog')
    const text = dialog.getByRole('textbox', { name: 'Readings' })
    await text.fill(`${yesterday} 09:10 23.4\n${yesterday} 09:20 lukewarm`)
    await dialog.getByRole('button', { name: 'Read it first' }).click()
    await dialog.getByText('1 line cannot be taken. Nothing was kept.').waitFor()
    await expectSoundPage(page, 'a pasted text with a mistake')
    await text.fill(`${yesterday} 09:10 23.4\n${yesterday} 09:20 23.5`)
    await dialog.getByRole('button', { name: 'Read it first' }).click()
    await dialog.getByRole('button', { name: 'Keep all 2' }).click()
    await page.getByText('2 readings pasted').waitFor()

    await page.getByRole('button', { name: 'Watch this zone' }).click()
    await dialog.getByLabel('Too hot above').fill('30')
    await dialog.getByLabel('Call after', { exact: true }).fill('0')
    await dialog.getByLabel(/Jonas/).check()
    await expectSoundPage(page, 'the watch of a zone')
    await dialog.getByRole('button', { name: 'Watch it' }).click()
    await page.getByText(/Somebody is called at once above 30 °C/).waitFor()

    const bench = await openDevice(browser, { viewport: PHONE, theme: 'rack' })
    await openBench(bench.page, { address: demo.server.address, person: demoSignIn('mara'), clutch: 'C-10' })
    const other = await openDevice(browser, { viewport: PHONE, theme: 'rack' })
    await signIn(other.page, demo.server.address, demoSignIn('mara'))
    await other.page.goto(`${base}/species`)
    await page.getByRole('textbox', { name: 'Day' }).fill(dayOf(new Date()))
    await page.getByLabel('Time').fill(onWall({ hour: '2-digit', minute: '2-digit' }))
    await page.getByLabel('Temperature', { exact: true }).fill('33.5')
    await page.locator('span', { hasText: /^°C$/ }).click()
    await page.getByRole('button', { name: 'Write it down' }).click()
    await other.page.getByText('Too hot: Side room, up to 33.5 °C').waitFor({ timeout: 40_000 })
    await expectSoundPage(other.page, 'a page with an alarm')
    await bench.page.getByText('Too hot: Side room, up to 33.5 °C').waitFor({ timeout: 40_000 })
    await expectSoundPage(bench.page, 'the bench with an alarm')
    await tap(bench.page, 1)
    expect(await countOnScreen(bench.page)).toBe(1)
    expect(await (await bench.page.request.get(`${demo.server.address}/bench`)).text()).not.toMatch(
      /Side room|Mara/,
    )
    await other.page.getByRole('link', { name: 'What to do' }).click()
    await other.page.getByRole('heading', { name: 'What to check first' }).waitFor()
    await expectSoundPage(other.page, 'an incident')
    await other.page.getByRole('main').getByRole('button', { name: 'I look after it' }).click()
    await other.page.getByText(/Mara Lindqvist looks after it/).waitFor()
    await page.getByRole('alert').getByText('Too hot: Side room').waitFor({ state: 'detached' })
    await page.goto(base)
    await page.getByText('Too hot: Side room, up to 33.5 °C').first().waitFor()
    await bench.page.getByText('Too hot: Side room').waitFor({ state: 'detached' })
    expect([...complaints, ...other.complaints, ...bench.complaints]).toEqual([])
    await bench.context.close()
    await other.context.close()
    await context.close()
  })

  test('says what another temperature would do, and sets it', async () => {
    const { page, context, complaints } = await openDevice(browser, { viewport: PHONE })
    await signIn(page, demo.server.address, demoSignIn('jonas'))
    await page.goto(`${demo.server.address}/w/larch-lane-mantids/zones`)
    await page.getByRole('link', { name: 'Warm shelf' }).click()
    await page.getByRole('link', { name: 'What would +2 °C do?' }).click()
    await page.getByRole('heading', { name: 'Warm shelf at 30 °C' }).waitFor()
    await page
      .getByText(/earlier/)
      .first()
      .waitFor()
    await expectSoundPage(page, 'another temperature')
    await page.getByRole('button', { name: 'Set it from today' }).click()
    await page.getByText('set to 30 °C, 26 °C by night').waitFor()
    expect(complaints).toEqual([])
    await context.close()
  })
})
