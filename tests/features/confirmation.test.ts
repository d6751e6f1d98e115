import { randomUUID } from 'node:crypto'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { createInvitation } from '@/lib/features/invitation/mutations'
import { listMails } from '@/lib/features/mail/data'
import { acceptConfirmation, acceptReset, signUp, startConfirmation } from '@/lib/features/person/mutations'
import { createWorkspace } from '@/lib/features/workspace/mutations'
import { confirmationAddress, getUnconfirmedAddress, lookUpConfirmation } from '@/lib/platform/confirmation'
import { listDueDayMails } from '@/lib/platform/due-day-mail'
import { env } from '@/lib/platform/env'
import { enqueueMail, startJobs } from '@/lib/platform/jobs'
import { closeMail } from '@/lib/platform/mail'
import { createPasswordReset } from '@/lib/platform/password-reset'
import { requireDatabase } from '@/tests/support/database'
import { withMailServer } from '@/tests/support/mail-server'
import { makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()
afterEach(() => vi.useRealTimers())

let number = 0
async function openAccount() {
  const email = `Newcomer-${++number}@example.test`
  const person = await signUp({ name: 'A newcomer', email, password: 'a long enough one' })
  if (!person) throw new Error('the account is there')
  const claim = { personId: person.id, email }
  const token = () => confirmationAddress(claim).split('/').at(-1) ?? ''
  const isConfirmed = async () => (await getUnconfirmedAddress(person.id)) === undefined
  return { ...claim, token, isConfirmed }
}

async function openShop() {
  const account = await openAccount()
  const slug = `shop-${randomUUID().slice(0, 8)}`
  const place = { timeZone: 'Europe/Berlin', country: 'DE', currency: 'EUR', language: 'en' }
  const scope = await createWorkspace(
    { name: 'A new shop', slug, ...place },
    { ...account, name: 'A newcomer' },
  )
  return { account, scope }
}

describe('the link that confirms an address', () => {
  test('works once, however many come with it at once, and opening it uses nothing up', async () => {
    const account = await openAccount()
    const token = account.token()
    expect(await lookUpConfirmation(token)).toEqual({ personId: account.personId, email: account.email })
    expect(await account.isConfirmed()).toBe(false)
    const outcomes = await Promise.allSettled(Array.from({ length: 8 }, () => acceptConfirmation(token)))
    expect(outcomes.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
    expect(await account.isConfirmed()).toBe(true)
    await expect(acceptConfirmation(account.token())).rejects.toMatchObject({ code: 'expired' })
  })

  test('ends after a day', async () => {
    const account = await openAccount()
    const token = account.token()
    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + 86_401_000 })
    await expect(acceptConfirmation(token)).rejects.toMatchObject({ code: 'expired' })
    expect(await account.isConfirmed()).toBe(false)
  })

  test('confirms nobody else, later or with anything changed', async () => {
    const [account, other] = [await openAccount(), await openAccount()]
    const [id, until, mark] = account.token().split('.')
    const forged = [
      [other.personId, until, mark],
      [id, String(Number(until) + 1), mark],
      [id, until, other.token().split('.')[2]],
      [id, until, 'x'.repeat(43)],
      ['x'.repeat(36), until, mark],
    ].map((parts) => parts.join('.'))
    for (const token of ['', 'x', ...forged])
      await expect(acceptConfirmation(token)).rejects.toMatchObject({ code: 'expired' })
    expect([await account.isConfirmed(), await other.isConfirmed()]).toEqual([false, false])
  })

  test('is not needed by who set a new password with a link that was mailed there', async () => {
    const account = await openAccount()
    await acceptReset({ token: await createPasswordReset(account.personId), password: 'another long one' })
    expect(await account.isConfirmed()).toBe(true)
  })
})

describe('the mail with that link', () => {
  test('goes to the address until it is confirmed, five times an hour at most', async () => {
    const account = await openAccount()
    await withMailServer(async (address, letters) => {
      env().SMTP_URL = address
      try {
        const send = () => startConfirmation({ id: account.personId, email: account.email })
        for (let time = 0; time < 5; time++) await send()
        await expect(send()).rejects.toMatchObject({ code: 'too-many' })
        expect(letters.map(({ to }) => to)).toEqual(Array(5).fill(account.email))
        const text = letters[0]?.data.replaceAll('=\n', '').replaceAll('=3D', '=') ?? ''
        await acceptConfirmation(text.match(/\/confirm\/([\w.-]+)/)?.[1] ?? '')
        await send()
        expect(letters).toHaveLength(5)
      } finally {
        env().SMTP_URL = undefined
        closeMail()
      }
    })
  })
})

describe('who has not confirmed yet', () => {
  test('invites nobody until then', async () => {
    const { account, scope } = await openShop()
    const invite = () =>
      within(scope, (tx, workspace) =>
        createInvitation(tx, { scope, workspace }, { email: 'friend@example.test', role: 'viewer' }),
      )
    await expect(invite()).rejects.toMatchObject({ code: 'forbidden' })
    expect(await within(scope, (tx) => listMails(tx, scope.workspaceId))).toEqual([])
    await acceptConfirmation(account.token())
    expect(await invite()).toMatchObject({ id: expect.any(String) })
  })

  test('gets no day sheet by mail until then', async () => {
    const { account, scope } = await openShop()
    const { workspaceId } = scope
    await within(scope, (tx) =>
      tx.dayMail.create({ data: { workspaceId, personId: account.personId, hour: 0 } }),
    )
    const isDue = async () =>
      (await listDueDayMails(new Date(), 1000)).some((due) => due.personId === account.personId)
    expect(await isDue()).toBe(false)
    await acceptConfirmation(account.token())
    expect(await isDue()).toBe(true)
  })

  test('is sent no mail but an invitation, and the mail says why', async () => {
    const { account, scope } = await openShop()
    const { workspaceId } = scope
    const inviter = await makeWorkspace('Inviting lane')
    const { email } = account
    const write = (subject: string) =>
      within(scope, async (tx) => {
        const data = { workspaceId, toAddress: email, subject, body: 'Too warm.' }
        const mail = await tx.mailMessage.create({ data })
        await enqueueMail(tx, workspaceId, mail.id)
      })
    const mails = () => within(scope, (tx) => listMails(tx, workspaceId))
    await withMailServer(async (address, letters) => {
      env().SMTP_URL = address
      const jobs = await startJobs()
      try {
        await write('An alarm')
        await within(inviter, (tx, workspace) =>
          createInvitation(tx, { scope: inviter, workspace }, { email, role: 'keeper' }),
        )
        await vi.waitFor(async () => expect((await mails())[0]?.failure).toContain('not confirmed'), 10_000)
        await vi.waitFor(() => expect(letters.filter(({ to }) => to === email)).toHaveLength(1), 10_000)
        expect(letters[0]?.data).toContain('invit')
        await acceptConfirmation(account.token())
        await write('The next alarm')
        await vi.waitFor(async () => expect((await mails())[0]?.sentAt).not.toBeNull(), 10_000)
        expect((await mails()).map(({ sentAt }) => sentAt !== null)).toEqual([true, false])
      } finally {
        await jobs.stop()
        env().SMTP_URL = undefined
      }
    })
  })
})
