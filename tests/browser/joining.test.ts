import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectSoundPage, openBrowser, openDevice, PHONE, type Visit } from '@/tests/support/browser'
import { requireDatabase } from '@/tests/support/database'
import { startServer, type TestServer } from '@/tests/support/server'

const database = requireDatabase()
let server: TestServer
let browser: Browser
let owner: Visit
let helper: Visit

beforeAll(async () => {
  server = await startServer(database)
  browser = await openBrowser()
  owner = await openDevice(browser)
  helper = await openDevice(browser, { viewport: PHONE, theme: 'rack' })
})
afterAll(async () => {
  await browser.close()
  await server.stop()
})

const PASSWORD = 'a few warm words'

async function openAccount(page: Page, name: string, email: string) {
  await page.getByLabel('Your name').fill(name)
  await page.getByLabel('Mail address').fill(email)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Open an account' }).click()
}

const go = (visit: Visit, path: string) => visit.page.goto(`${server.address}${path}`)

describe('a new breeder', () => {
  test('opens an account with the keyboard alone and is told at the field what is missing', async () => {
    const { page } = owner
    await go(owner, '/')
    await page.getByRole('link', { name: 'Open an account' }).click()
    await page.getByLabel('Your name').fill('Ada')
    await page.getByLabel('Mail address').fill('ada@example')
    await page.getByLabel('Password').fill('short')
    await page.keyboard.press('Enter')
    await page.getByText('At least 10 letters, figures or signs.', { exact: true }).waitFor()
    expect(await page.getByLabel('Mail address').evaluate((field) => field === document.activeElement)).toBe(
      true,
    )
    await expectSoundPage(page, 'the sign-up with mistakes')
    await openAccount(page, 'Ada', 'ada@example.test')
    await page.getByRole('heading', { name: 'Your workspaces' }).waitFor()
  })

  test('makes a workspace whose address, zone and currency are suggested', async () => {
    const { page } = owner
    await page.getByRole('link', { name: 'Make a workspace' }).click()
    await page.getByLabel('Name').fill('Ada’s Shelf')
    await page.getByLabel('Country').selectOption('NL')
    expect(await page.getByLabel('Address').inputValue()).toBe('ada-s-shelf')
    expect(await page.getByLabel('Currency').inputValue()).toBe('EUR')
    await page.getByRole('button', { name: 'Make the workspace' }).click()
    await page.getByRole('heading', { name: 'No zone yet' }).waitFor()
    await expectSoundPage(page, 'zones without a zone')
  })

  test('adds a zone, and a temperature that cannot be keeps what was typed', async () => {
    const { page } = owner
    await page.getByRole('button', { name: 'Add a zone' }).click()
    await page.getByLabel('Name').fill('Warm shelf')
    await page.getByLabel('Temperature', { exact: true }).fill('265')
    await page.getByRole('button', { name: 'Add it' }).click()
    await page.getByText('Not above 60 °C.').waitFor()
    await expectSoundPage(page, 'adding a zone')
    expect(await page.getByLabel('Name').inputValue()).toBe('Warm shelf')
    await page.getByLabel('Temperature', { exact: true }).fill('26,5')
    await page.getByRole('button', { name: 'Add it' }).click()
    await page.getByText('26.5 °C', { exact: true }).waitFor()
  })

  test('whose connection is gone keeps what was typed and sends it once', async () => {
    const { page, context } = owner
    await page.getByRole('button', { name: 'Add a zone' }).click()
    await page.getByLabel('Name').fill('Side room')
    await page.getByLabel('Temperature', { exact: true }).fill('22')
    await context.setOffline(true)
    await page.getByRole('button', { name: 'Add it' }).click()
    await page.getByText('There is no connection to the service.').waitFor()
    await context.setOffline(false)
    await page.getByRole('button', { name: 'Send again' }).click()
    await page.getByRole('heading', { name: 'Side room' }).waitFor()
    expect(await page.getByRole('heading', { name: 'Side room' }).count()).toBe(1)
  })
})

describe('a helper', () => {
  let link = ''

  test('is invited only once the owner has confirmed the address, by a link that is shown', async () => {
    const { page } = owner
    await page.getByRole('link', { name: 'People', exact: true }).first().click()
    await page.getByText('Your mail address, ada@example.test, is not confirmed yet.').waitFor()
    expect(await page.getByRole('button', { name: 'Invite someone' }).count()).toBe(0)
    await expectSoundPage(page, 'people while the own address is not confirmed')
    await page.getByRole('link', { name: 'Confirm it' }).click()
    await page.getByRole('heading', { name: 'Mail address' }).waitFor()
    await expectSoundPage(page, 'the account with an address to confirm')
    await page.getByRole('link', { name: /\/confirm\// }).click()
    await page.getByRole('heading', { name: 'Is this your address?' }).waitFor()
    await expectSoundPage(page, 'confirming an address')
    const address = page.url()
    await page.getByRole('button', { name: 'Yes, it is mine' }).click()
    await page.getByText('ada@example.test, confirmed').waitFor()
    await page.goto(address)
    await page.getByRole('heading', { name: 'This link cannot be used any more' }).waitFor()
  })

  test('is invited by a link that the owner sees', async () => {
    const { page } = owner
    await go(owner, '/w/ada-s-shelf/people')
    await page.getByRole('button', { name: 'Invite someone' }).click()
    await page.getByLabel('Mail address').fill('ben@example.test')
    await page.getByRole('radio', { name: /^Counter/ }).check()
    await expectSoundPage(page, 'inviting someone')
    await page.getByRole('button', { name: 'Invite', exact: true }).click()
    link = (await page.getByText(/\/invitation\//).textContent()) ?? ''
    expect(link).toMatch(new RegExp(`^${server.address}/invitation/[\\w-]{43}$`))
  })

  test('opens an account on the way and accepts once, on a phone in the dark', async () => {
    const { page } = helper
    await page.goto(link)
    await page.getByRole('heading', { name: 'Ada’s Shelf invites you' }).waitFor()
    await expectSoundPage(page, 'an invitation')
    await page.getByRole('link', { name: 'Open an account' }).click()
    await openAccount(page, 'Ben', 'ben@example.test')
    await page.getByRole('button', { name: 'Accept' }).click()
    await page.waitForURL((url) => url.pathname.startsWith('/w/ada-s-shelf'))
    await page.goto(link)
    await page.getByRole('heading', { name: 'This invitation cannot be used any more' }).waitFor()
  })

  test('sees zones but may not change them, nor open what belongs to owners', async () => {
    const { page } = helper
    await go(helper, '/w/ada-s-shelf/zones')
    await page.getByRole('heading', { name: 'Warm shelf' }).waitFor()
    expect(await page.getByRole('button', { name: 'Add a zone' }).count()).toBe(0)
    const answer = await go(helper, '/w/ada-s-shelf/people')
    expect(answer?.status()).toBe(403)
    await page.getByRole('heading', { name: 'Your role does not include this page' }).waitFor()
    await expectSoundPage(page, 'a page for another role')
  })

  test('works under another role from the next step on, and nothing after it ended', async () => {
    const { page } = owner
    await go(owner, '/w/ada-s-shelf/people')
    const ben = page.getByRole('listitem').filter({ hasText: 'ben@example.test' })
    await ben.getByRole('button', { name: 'Change role' }).click()
    await page.getByRole('radio', { name: /^Keeper/ }).check()
    await page.getByRole('button', { name: 'Give this role' }).click()
    await ben.getByText('keeper · ben@example.test').waitFor()
    await go(helper, '/w/ada-s-shelf/zones')
    await helper.page.getByRole('button', { name: 'Add a zone' }).waitFor()
    await ben.getByRole('button', { name: 'End' }).click()
    await page.getByRole('button', { name: 'End it' }).click()
    await page.getByRole('heading', { name: 'No longer here' }).waitFor()
    await helper.page.getByRole('button', { name: 'Add a zone' }).click()
    await helper.page.getByLabel('Name').fill('Not mine any more')
    await helper.page.getByLabel('Temperature', { exact: true }).fill('20')
    await helper.page.getByRole('button', { name: 'Add it' }).click()
    await helper.page.getByText('There is no such workspace here.').waitFor()
    expect((await go(helper, '/w/ada-s-shelf/zones'))?.status()).toBe(404)
  })
})

describe('the owner', () => {
  test('cannot leave as the only one', async () => {
    const { page } = owner
    await go(owner, '/w/ada-s-shelf/people')
    await page.getByRole('button', { name: 'Leave' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Leave', exact: true }).click()
    await page.getByText('This is the only owner. Make someone else an owner first.').waitFor()
    await expectSoundPage(page, 'the last owner')
    await page.keyboard.press('Escape')
  })

  test('makes a token that is shown once, works, and works no more', async () => {
    const { page } = owner
    await go(owner, '/w/ada-s-shelf/tokens')
    await page.getByRole('button', { name: 'Make a token' }).click()
    await page.getByLabel('What it is for').fill('Till')
    await page.getByRole('button', { name: 'Make it' }).click()
    await page.getByText('Copy the token now.').waitFor()
    await expectSoundPage(page, 'a new token')
    const token = (await page.getByText(/^[\w-]{43}$/).textContent()) ?? ''
    await page.getByRole('button', { name: 'I have it' }).click()
    const ask = () =>
      fetch(`${server.address}/api/v1/zones`, { headers: { authorization: `Bearer ${token}` } })
    expect((await ask()).status).toBe(200)
    await page.reload()
    expect(await page.content()).not.toContain(token)
    await page.getByRole('button', { name: 'Revoke Till' }).click()
    await page.getByText('revoked', { exact: true }).waitFor()
    expect((await ask()).status).toBe(401)
  })

  test('changes a care value, which then says that it is theirs', async () => {
    const { page } = owner
    await go(owner, '/w/ada-s-shelf/species/creobroter-spp')
    await page.getByRole('button', { name: 'Change Days to adult, female' }).click()
    await page.getByLabel('Value').fill('101')
    await page.getByLabel('Why').fill('Three lines of ours')
    await page.getByRole('button', { name: 'Make it ours' }).click()
    await page.getByText('Your own: Three lines of ours').waitFor()
    await page.getByText('care profile, version 2').waitFor()
  })

  test('gives the workspace another address, and the old one leads there', async () => {
    const { page } = owner
    await go(owner, '/w/ada-s-shelf/settings')
    // What is typed before the scripts have run is put back to what stood there.
    await page.waitForLoadState('networkidle')
    await page.getByLabel('Last part of the address').fill('ada')
    await page.getByRole('button', { name: 'Change the address' }).click()
    await page.waitForURL((url) => url.pathname === '/w/ada/settings')
    await go(owner, '/w/ada-s-shelf/species/creobroter-spp?from=label')
    expect(page.url()).toBe(`${server.address}/w/ada/species/creobroter-spp?from=label`)
  })

  test('signed out elsewhere signs in on top of the form and loses nothing', async () => {
    const { page } = owner
    await go(owner, '/w/ada/containers')
    await page.getByRole('button', { name: 'Add a kind' }).click()
    const fields = { Name: '120 ml cup', Volume: '120', 'Height inside': '68', 'Width inside': '60' }
    for (const [label, text] of Object.entries(fields)) await page.getByLabel(label).fill(text)
    await page.getByLabel('How many you have').fill('60')
    const other = await openDevice(browser)
    await other.page.goto(`${server.address}/sign-in`)
    await other.page.getByLabel('Mail address').fill('ada@example.test')
    await other.page.getByLabel('Password').fill(PASSWORD)
    await other.page.getByRole('button', { name: 'Sign in' }).click()
    await other.page.getByRole('heading', { name: 'Your workspaces' }).waitFor()
    await other.page.goto(`${server.address}/devices`)
    await expectSoundPage(other.page, 'devices')
    await other.page.getByRole('button', { name: 'Sign out there' }).click()
    await other.page.getByRole('button', { name: 'Sign out there' }).waitFor({ state: 'detached' })
    await other.context.close()
    await page.getByRole('button', { name: 'Add it' }).click()
    await page.getByRole('dialog', { name: 'Sign in again' }).getByLabel('Password').fill('not the right one')
    await page.getByRole('button', { name: 'Sign in and send' }).last().click()
    await page.getByText('Mail address and password do not match.').waitFor()
    await page.getByRole('dialog', { name: 'Sign in again' }).getByLabel('Password').fill(PASSWORD)
    await page.getByRole('button', { name: 'Sign in and send' }).last().click()
    await page.getByRole('heading', { name: '120 ml cup' }).waitFor()
  })

  test('signs out, and the page behind is not shown any more', async () => {
    const { page } = owner
    await page.getByRole('button', { name: 'Sign out' }).first().click()
    await page.getByRole('link', { name: 'Sign in' }).waitFor()
    await go(owner, '/w/ada/zones')
    expect(new URL(page.url()).pathname).toBe('/sign-in')
    expect(new URL(page.url()).searchParams.get('next')).toBe('/w/ada/zones')
  })
})

describe('a stranger', () => {
  test('is not told whether an address has an account', async () => {
    const visit = await openDevice(browser)
    const answers: string[] = []
    for (const email of ['ada@example.test', 'nobody@example.test']) {
      await visit.page.goto(`${server.address}/sign-in?next=//other.site`)
      await visit.page.getByLabel('Mail address').fill(email)
      await visit.page.getByLabel('Password').fill('wrong password')
      await visit.page.getByRole('button', { name: 'Sign in' }).click()
      answers.push((await visit.page.getByRole('alert').filter({ hasText: /./ }).first().textContent()) ?? '')
    }
    expect(answers[0]).toContain('Mail address and password do not match.')
    expect(answers[1]).toBe(answers[0])
    await visit.context.close()
  })

  test('who tries passwords is held back with the time to wait', async () => {
    const visit = await openDevice(browser)
    await visit.page.goto(`${server.address}/sign-in`)
    await visit.page.getByLabel('Mail address').fill('ada@example.test')
    for (let attempt = 0; attempt < 9; attempt++) {
      await visit.page.getByLabel('Password').fill(`guess ${attempt}`)
      await visit.page.getByRole('button', { name: 'Sign in' }).click()
      await visit.page.getByRole('button', { name: 'Sign in' }).waitFor()
      await visit.page.getByRole('alert').filter({ hasText: /./ }).first().waitFor()
    }
    await visit.page.getByText(/^Too many attempts/).waitFor()
    await visit.context.close()
  })

  test('on another site cannot send anything in somebody’s name', async () => {
    const answer = await fetch(`${server.address}/api/auth/callback/credentials`, {
      method: 'POST',
      headers: { origin: 'https://other.site' },
    })
    expect(answer.status).toBe(403)
  })
})

describe('the reference of the API', () => {
  test('is read without a token and loads nothing from elsewhere', async () => {
    const visit = await openDevice(browser, { viewport: PHONE })
    const hosts = new Set<string>()
    visit.page.on('request', (request) => hosts.add(new URL(request.url()).origin))
    await visit.page.goto(`${server.address}/api/v1/docs`)
    await visit.page.getByRole('heading', { name: 'POST /egg-cases', exact: true }).waitFor()
    await expectSoundPage(visit.page, 'the reference')
    expect([...hosts]).toEqual([server.address])
    expect(visit.complaints).toEqual([])
    await visit.context.close()
  })
})

describe('the service', () => {
  test('says that it is alive and ready, and nothing else', async () => {
    const answer = await fetch(`${server.address}/api/health`)
    expect([answer.status, await answer.json()]).toEqual([
      200,
      { alive: true, ready: true, database: 'ready' },
    ])
  })

  test('does not start as a role that sees everything', async () => {
    const attempt = startServer(database, { APP_DATABASE_URL: database.urls.admin })
    await expect(attempt).rejects.toThrow(/superuser/)
  })
})
