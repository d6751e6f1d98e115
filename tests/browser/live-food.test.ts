import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { updateKept } from '@/lib/features/prey/mutations'
import { createZone } from '@/lib/features/zone/mutations'
import { hashPassword } from '@/lib/platform/password'
import { updatePasswordHash } from '@/lib/platform/person'
import { expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { requireDatabase } from '@/tests/support/database'
import { startJobsProcess } from '@/tests/support/jobs-process'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { within } from '@/tests/support/workspaces'

const PASSWORD = 'a few warm words'

const database = requireDatabase()
let server: TestServer
let jobs: Awaited<ReturnType<typeof startJobsProcess>>
let browser: Browser
let page: Page
let complaints: string[]
let base: string
let rack: Rack

/** A room of twenty nymphs whose plan is made within seconds. */
beforeAll(async () => {
  rack = await makeRack('Fly corner')
  const grown = { hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-3) }
  await makeNymphs(rack, { count: 20, ...grown })
  const email = await within(rack.owner, async (tx, workspace) => {
    const { workspaceId } = workspace
    await updateKept(tx, workspaceId, { line: 'green-bottle', version: 0, kept: false })
    await createZone(tx, workspace, { name: 'Cool corner', setTemperatureC: 18 })
    const [owner] = await tx.membership.findMany({ where: { workspaceId } })
    return String(owner?.email)
  })
  const hashes = { before: 'none', after: await hashPassword(PASSWORD) }
  await updatePasswordHash(String(rack.owner.personId), hashes)
  server = await startServer(database)
  jobs = await startJobsProcess(database, server.address)
  browser = await openBrowser()
  ;({ page, complaints } = await openDevice(browser))
  base = `${server.address}/w/${rack.owner.slug}/live-food`
  await signIn(page, server.address, { email, password: PASSWORD })
})
afterAll(async () => {
  await browser.close()
  await jobs.stop()
  await server.stop()
})

const dialog = () => page.getByRole('dialog')
const field = (label: string) => dialog().getByLabel(new RegExp(`^${label}( \\(optional\\))?$`))

/** The mistake stands at its field in clear words, and what was typed is still there. */
async function expectMistake(label: string, message: string, typed: string) {
  await expect.poll(() => field(label).getAttribute('aria-invalid')).toBe('true')
  expect(await field(label).inputValue()).toBe(typed)
  expect(await dialog().innerText()).toContain(message)
}

async function startJar(startedOn: string, board: string) {
  await page.getByRole('button', { name: 'Jars started' }).click()
  await field('Started on').fill(startedOn)
  await field('Zone').selectOption({ label: 'Warm room' })
  await field('Board').fill(board)
  await dialog().getByRole('button', { name: 'Record the start' }).click()
}

describe('whoever keeps the flies', () => {
  test('is shown what is needed and no jar, and cannot have started one tomorrow', async () => {
    await page.goto(base)
    await page
      .getByRole('heading', { name: /melanogaster: needed and coming|hydei: needed and coming/ })
      .first()
      .waitFor()
    expect(await page.getByRole('main').innerText()).toMatch(/0 jars on the shelf · \d lines? will run short/)
    await expectSoundPage(page, 'live food')
    await page.getByRole('link', { name: 'The shelf' }).click()
    await page.getByRole('heading', { name: 'No jar on the shelf' }).waitFor()
    await startJar(addDays(rack.today, 1), 'top')
    await expectMistake('Started on', 'This day is in the future.', addDays(rack.today, 1))
    expect(await field('Board').inputValue()).toBe('top')
    await field('Flies put into each').fill('0')
    await field('Started on').fill(rack.day(-16))
    await dialog().getByRole('button', { name: 'Record the start' }).click()
    await expectMistake('Flies put into each', 'At least one.', '0')
    await field('Flies put into each').fill('150')
    await dialog().getByRole('button', { name: 'Record the start' }).click()
    await page.getByText('One jar started.').waitFor()
    await page.getByText(/150 starters where about 45 are usual: too full/).waitFor()
  })

  test('takes flies out with one tap, and marks mites with another', async () => {
    const said = () => page.getByRole('main').innerText()
    await expect.poll(said, { timeout: 10_000 }).toMatch(/about \d+ in it uncounted, about \d+ still to come/)
    await page.getByRole('button', { name: /About \d+ taken out of J-1/ }).click()
    await page.getByText(/J-1: about \d+ taken\./).waitFor()
    await expect.poll(said).not.toMatch(/uncounted/)
    await startJar(rack.day(-12), 'top')
    await page.getByText('J-2').first().waitFor()
    await page.getByRole('button', { name: 'Mites in J-1' }).click()
    await page.getByText('J-1 is marked. Suspect for 30 days: J-2.').waitFor()
    await page.getByText(/^Suspect until .*stood on one shelf with J-1/).waitFor()
    await expectSoundPage(page, 'the shelf')
  })

  test('says that a jar stands elsewhere since a day, never before it was started', async () => {
    await page.getByRole('link', { name: 'J-2', exact: true }).click()
    await page.getByRole('button', { name: 'Place and note' }).click()
    await field('Zone').selectOption({ label: 'Cool corner' })
    await field('There since').fill(rack.day(-20))
    await field('Note').fill('too many at once')
    await dialog().getByRole('button', { name: 'Keep it so' }).click()
    await expectMistake('There since', 'J-2 was started on', rack.day(-20))
    expect(await field('Note').inputValue()).toBe('too many at once')
    await field('There since').fill(rack.day(-2))
    await dialog().getByRole('button', { name: 'Keep it so' }).click()
    await page.getByText('J-2: changed.').waitFor()
    await page.getByText(/Stood in Warm room until .*, since then in Cool corner \(18 °C\)/).waitFor()
    await expectSoundPage(page, 'a jar that was moved')
  })

  test('is told at the field of a stock below nothing, and of a yield below it', async () => {
    await page.goto(`${base}/prey/melanogaster`)
    await page.getByRole('button', { name: 'Count', exact: true }).click()
    await field('How many').fill('-5')
    await field('On').fill(rack.day(-1))
    await dialog().getByRole('button', { name: 'Record the count' }).click()
    await expectMistake('How many', 'Not below nothing.', '-5')
    expect(await field('On').inputValue()).toBe(rack.day(-1))
    await field('How many').fill('80')
    await dialog().getByRole('button', { name: 'Record the count' }).click()
    await page.getByText('Counted.').waitFor()
    await page.getByRole('button', { name: 'Change Yield of a culture' }).click()
    await field('Value').fill('-1')
    await field('Why').fill('tired flies')
    await dialog().getByRole('button', { name: 'Make it ours' }).click()
    await expectMistake('Value', 'Not below nothing.', '-1')
    expect(await field('Why').inputValue()).toBe('tired flies')
    await field('Value').fill('0')
    await dialog().getByRole('button', { name: 'Make it ours' }).click()
    await page.getByText('Changed. Plans follow it from now on.').waitFor()
  })

  test('leaves a stage without food only knowingly: it is named, with a way to a line', async () => {
    await page.goto(`${base}/prey`)
    const entry = page.getByRole('listitem').filter({ hasText: 'Blue bottle pupae' })
    await entry.getByRole('button', { name: 'Do not plan with it' }).click()
    await page.getByText('Blue bottle pupae is no longer planned with.').waitFor()
    await page.goto(base)
    await page
      .getByText(/^No line kept here feeds Creobroter/)
      .first()
      .waitFor()
    await page.getByRole('link', { name: 'Choose a line' }).first().waitFor()
    await page.setViewportSize(PHONE)
    await expectSoundPage(page, 'live food with a stage nothing feeds')
  })

  test('has a plan for the rest without a shelf, which says what it cannot do', async () => {
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
    await page.getByRole('button', { name: 'Plan it' }).click()
    await page.getByText('It is being planned. You may leave this page.').waitFor()
    await page.getByRole('heading', { name: 'In all' }).waitFor({ timeout: 90_000 })
    const words = await page.getByRole('main').innerText()
    expect(words).toMatch(/There is no shelf place: nothing is started of .*hydei/)
    expect(words).toMatch(
      /By its figures a culture of Fruit fly, melanogaster gives nothing: none is started\./,
    )
    expect(words).toMatch(/No line that is kept feeds Creobroter/)
    expect(words).toMatch(/Jars to start\s+0/)
    expect(words).toMatch(/Packs to order\s+[1-9]/)
    await expectSoundPage(page, 'a plan without a shelf')
    expect(complaints).toEqual([])
  })
})
