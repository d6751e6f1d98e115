import { createServer } from 'node:net'
import { describe, expect, test } from 'vitest'
import { acceptReset, signUp, startReset, updatePassword } from '@/lib/features/person/mutations'
import { env } from '@/lib/platform/env'
import { closeMail } from '@/lib/platform/mail'
import { verifyPassword } from '@/lib/platform/password'
import { createPasswordReset, lookUpPasswordReset, resetAddress } from '@/lib/platform/password-reset'
import { getPasswordHash, getPersonForSignIn } from '@/lib/platform/person'
import { createSession, getSession, openSession } from '@/lib/platform/session'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()
let number = 0

async function openAccount() {
  const email = `person-${++number}@example.test`
  await signUp({ name: 'Someone', email, password: 'the old password' })
  const person = await getPersonForSignIn(email)
  if (!person) throw new Error('the account is there')
  const signIn = async () => {
    const secret = await createSession(person.id, 'a device')
    const session = await getSession(secret)
    if (!session) throw new Error('the device is signed in')
    return { secret, session }
  }
  const has = async (password: string) => verifyPassword(await getPasswordHash(person.id), password)
  return { email, id: person.id, signIn, has }
}

const ask = (sql: string, values: unknown[] = []) =>
  withClient(database.urls.admin, async (client) => (await client.query(sql, values)).rows)

describe('changing one’s password', () => {
  test('signs every other device out, and keeps this one', async () => {
    const account = await openAccount()
    const [here, phone] = [await account.signIn(), await account.signIn()]
    await updatePassword(here.session, { current: 'the old password', password: 'a brand new one' })
    expect(await account.has('a brand new one')).toBe(true)
    expect(await getSession(here.secret)).toBeDefined()
    expect(await getSession(phone.secret)).toBeUndefined()
  })

  test('wants the one that holds now, named at its field, and is held back after eight tries', async () => {
    const account = await openAccount()
    const { session } = await account.signIn()
    const guess = () => updatePassword(session, { current: 'a wild guess', password: 'a brand new one' })
    for (let attempt = 0; attempt < 8; attempt += 1)
      await expect(guess()).rejects.toMatchObject({ code: 'invalid', fields: [{ path: 'current' }] })
    await expect(guess()).rejects.toMatchObject({ code: 'too-many' })
    expect(await account.has('the old password')).toBe(true)
  })

  test('of two at once changes it once, and the other is told', async () => {
    const account = await openAccount()
    const [one, other] = [await account.signIn(), await account.signIn()]
    const outcomes = await Promise.allSettled([
      updatePassword(one.session, { current: 'the old password', password: 'that of the one' }),
      updatePassword(other.session, { current: 'the old password', password: 'that of the other' }),
    ])
    const done = outcomes.map(({ status }) => status === 'fulfilled')
    expect(done.filter(Boolean)).toHaveLength(1)
    expect(await account.has(done[0] ? 'that of the one' : 'that of the other')).toBe(true)
    const still = await Promise.all([one, other].map(async ({ secret }) => Boolean(await getSession(secret))))
    expect(still).toEqual(done)
  })

  test('ends a link that was still open', async () => {
    const account = await openAccount()
    const token = await createPasswordReset(account.id)
    const { session } = await account.signIn()
    await updatePassword(session, { current: 'the old password', password: 'a brand new one' })
    expect(await lookUpPasswordReset(token)).toBeUndefined()
  })

  test('lets no device in that proved the old password just before', async () => {
    const account = await openAccount()
    const before = await getPasswordHash(account.id)
    const { session } = await account.signIn()
    const rounds = Array.from({ length: 8 }, () =>
      openSession({ personId: account.id, device: 'late', passwordHash: before ?? null }),
    )
    const [, ...opened] = await Promise.all([
      updatePassword(session, { current: 'the old password', password: 'a brand new one' }),
      ...rounds,
    ])
    for (const secret of opened) if (secret) expect(await getSession(secret)).toBeUndefined()
    const late = await openSession({ personId: account.id, device: 'later', passwordHash: before ?? null })
    expect(late).toBeUndefined()
  })
})

describe('a link for a forgotten password', () => {
  test('can be looked at as often as one likes, sets it once, and signs every device out', async () => {
    const account = await openAccount()
    const phone = await account.signIn()
    const [token, another] = [await createPasswordReset(account.id), await createPasswordReset(account.id)]
    for (let look = 0; look < 3; look += 1)
      expect(await lookUpPasswordReset(token)).toEqual({ email: account.email })
    await acceptReset({ token, password: 'a brand new one' })
    expect(await account.has('a brand new one')).toBe(true)
    expect(await getSession(phone.secret)).toBeUndefined()
    for (const spent of [token, another])
      await expect(acceptReset({ token: spent, password: 'yet another one' })).rejects.toMatchObject({
        code: 'expired',
      })
    expect(await account.has('a brand new one')).toBe(true)
  })

  test('used eight times at once sets one password', async () => {
    const account = await openAccount()
    const token = await createPasswordReset(account.id)
    const outcomes = await Promise.allSettled(
      Array.from({ length: 8 }, (_, index) => acceptReset({ token, password: `the password of ${index}` })),
    )
    const winners = outcomes.flatMap(({ status }, index) => (status === 'fulfilled' ? [index] : []))
    expect(winners).toHaveLength(1)
    expect(await account.has(`the password of ${winners[0]}`)).toBe(true)
  })

  test('works for ten minutes', async () => {
    const account = await openAccount()
    const token = await createPasswordReset(account.id)
    const [row] = await ask(
      'select extract(epoch from expires_at - created_at)::int as seconds from password_reset where person_id = $1',
      [account.id],
    )
    expect(row).toEqual({ seconds: 600 })
    await ask('update password_reset set expires_at = now() where person_id = $1', [account.id])
    expect(await lookUpPasswordReset(token)).toBeUndefined()
    await expect(acceptReset({ token, password: 'a brand new one' })).rejects.toMatchObject({
      code: 'expired',
    })
  })

  test('is of 256 bits, stands nowhere in the database, and leads to the address of the settings', async () => {
    const { id } = await openAccount()
    const token = await createPasswordReset(id)
    expect(Buffer.from(token, 'base64url')).toHaveLength(32)
    const rows = await ask('select r::text as row from password_reset r')
    expect(JSON.stringify(rows)).not.toContain(token)
    expect(resetAddress(token)).toBe(`http://127.0.0.1:3000/reset-password/${token}`)
  })

  test('is mailed to an address with an account, and nothing is written for any other', async () => {
    const { email, id } = await openAccount()
    const server = await startMailCatcher()
    env().SMTP_URL = `smtp://127.0.0.1:${server.port}`
    try {
      await startReset('nobody@example.test')
      expect(server.received()).toBe('')
      await startReset(email.toUpperCase())
      const text = server.received().replaceAll('=\r\n', '').replaceAll('=3D', '=')
      const token = text.match(/reset-password\/([\w-]{43})/)?.[1] ?? ''
      expect(text).toContain(`RCPT TO:<${email}>`)
      expect(await lookUpPasswordReset(token)).toEqual({ email })
      expect(
        await ask('select count(*)::int as links from password_reset where person_id = $1', [id]),
      ).toEqual([{ links: 1 }])
    } finally {
      env().SMTP_URL = undefined
      closeMail()
      server.stop()
    }
  })

  test('is not written where there is no mail server to carry it', async () => {
    const { email, id } = await openAccount()
    await startReset(email)
    expect(await ask('select from password_reset where person_id = $1', [id])).toEqual([])
  })
})

/** As much of a mail server as the sender needs: it says yes and keeps what it was told. */
async function startMailCatcher() {
  let received = ''
  const server = createServer((socket) => {
    let isBody = false
    socket.write('220 catcher\r\n')
    socket.on('data', (chunk) => {
      received += chunk
      const text = String(chunk)
      if (isBody) {
        if (!text.includes('\r\n.\r\n')) return
        isBody = false
        return socket.write('250 kept\r\n')
      }
      if (/^DATA/im.test(text)) {
        isBody = true
        return socket.write('354 go on\r\n')
      }
      socket.write(/^QUIT/i.test(text) ? '221 bye\r\n' : '250 yes\r\n')
    })
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const address = server.address()
  const port = typeof address === 'object' && address !== null ? address.port : 0
  return { port, received: () => received, stop: () => server.close() }
}
