import { describe, expect, test } from 'vitest'
import { authenticatorAddress, encodeBase32 } from '@/lib/domain/person/second-factor'
import {
  acceptSecondFactor,
  createRecoveryCodes,
  endOwnSecondFactor,
  signUp,
  startOwnSecondFactor,
} from '@/lib/features/person/mutations'
import { isSecondFactorRequired } from '@/lib/features/workspace/data'
import { updateSecondFactorRule } from '@/lib/features/workspace/mutations'
import { authOptions } from '@/lib/platform/auth'
import { listOwnScopes } from '@/lib/platform/own-scopes'
import { getPersonForSignIn } from '@/lib/platform/person'
import { seal, unseal } from '@/lib/platform/sealed'
import { getSecondFactor, takeCode } from '@/lib/platform/second-factor'
import { createSession, getSession, lookUpMembership } from '@/lib/platform/session'
import { codeOfStep, findStep, stepAt } from '@/lib/platform/timed-code'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeMember, makeWorkspace, within } from '@/tests/support/workspaces'

const database = requireDatabase()
const PASSWORD = 'a few warm words'
const now = () => Date.now() / 1000
let number = 0

async function openAccount() {
  const email = `factor-${++number}@example.test`
  await signUp({ name: 'Someone', email, password: PASSWORD })
  const id = (await getPersonForSignIn(email))?.id ?? ''
  const session = await getSession(await createSession(id, 'a device'))
  if (!session) throw new Error('the device is signed in')
  return { email, id, session }
}

/** A code of an app that holds the secret, some half minutes from now. */
function codeOf(secret: string, ahead = 0): string {
  const bits = [...secret].map((sign) =>
    'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'.indexOf(sign).toString(2).padStart(5, '0'),
  )
  const bytes =
    bits
      .join('')
      .match(/.{8}/g)
      ?.map((byte) => Number.parseInt(byte, 2)) ?? []
  return codeOfStep(Uint8Array.from(bytes), stepAt(now()) + ahead)
}

async function turnOn(account: Awaited<ReturnType<typeof openAccount>>) {
  const { secret } = await startOwnSecondFactor(account.session)
  // The code before this one, so that the present one is still to be used.
  const codes = await acceptSecondFactor(account.session, codeOf(secret, -1))
  return { secret, codes }
}

async function signIn(email: string, password: string, code = ''): Promise<string> {
  const [provider] = authOptions().providers
  const { authorize } = (provider as unknown as { options: { authorize: Authorize } }).options
  try {
    const found = await authorize({ email, password, code }, { headers: { 'user-agent': 'a test' } })
    return found ? 'in' : 'refused'
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}
type Authorize = (
  typed: { email: string; password: string; code: string },
  request: { headers: Record<string, string> },
) => Promise<{ secret: string } | null>

describe('a timed code', () => {
  test.each([
    [59, '94287082'],
    [1111111109, '07081804'],
    [1111111111, '14050471'],
    [1234567890, '89005924'],
    [2000000000, '69279037'],
    [20000000000, '65353130'],
  ])('is that of RFC 6238 at %i seconds', (seconds, code) => {
    expect(codeOfStep(Buffer.from('12345678901234567890'), stepAt(seconds), 8)).toBe(code)
  })

  test('is taken from one half minute before to one after, not further', () => {
    const secret = Buffer.from('12345678901234567890')
    const at = 1_000_000 * 30
    const found = [-2, -1, 0, 1, 2].map((off) => findStep(secret, codeOfStep(secret, 1_000_000 + off), at))
    expect(found).toEqual([undefined, 999_999, 1_000_000, 1_000_001, undefined])
    expect(findStep(secret, '12345', at)).toBeUndefined()
  })

  test('has its secret written as RFC 4648 does', () => {
    const written = ['f', 'fo', 'foo', 'foob', 'fooba', 'foobar'].map((text) =>
      encodeBase32(Buffer.from(text)),
    )
    expect(written).toEqual(['MY', 'MZXQ', 'MZXW6', 'MZXW6YQ', 'MZXW6YTB', 'MZXW6YTBOI'])
    expect(authenticatorAddress('ada+x@example.test', 'ABC')).toBe(
      'otpauth://totp/Oothecary:ada%2Bx%40example.test?secret=ABC&issuer=Oothecary&algorithm=SHA1&digits=6&period=30',
    )
  })

  test('has its secret sealed for one person under one service', () => {
    const sealed = seal(Buffer.from('secret'), 'ada')
    expect(unseal(sealed, 'ada').toString()).toBe('secret')
    expect(() => unseal(sealed, 'bea')).toThrow()
    const changed = Buffer.from(sealed)
    changed[changed.length - 1]! ^= 1
    expect(() => unseal(changed, 'ada')).toThrow()
  })
})

describe('a second factor', () => {
  test('holds once its first code has confirmed it, and its secret stands nowhere in the clear', async () => {
    const account = await openAccount()
    const { secret } = await startOwnSecondFactor(account.session)
    await expect(acceptSecondFactor(account.session, '000000')).rejects.toMatchObject({
      fields: [{ path: 'code' }],
    })
    expect(await signIn(account.email, PASSWORD)).toBe('in')
    expect(await acceptSecondFactor(account.session, codeOf(secret))).toHaveLength(10)
    expect(await getSecondFactor(account.id)).toEqual({ isOn: true, recoveryCodesLeft: 10 })
    await expect(startOwnSecondFactor(account.session)).rejects.toMatchObject({ code: 'already-recorded' })
    const rows = await withClient(database.urls.admin, (client) =>
      client.query(
        'select p::text, (select string_agg(c::text, $2) from recovery_code c) from person p where id = $1',
        [account.id, ' '],
      ),
    )
    expect(JSON.stringify(rows.rows)).not.toContain(secret)
  })

  test('is asked for after the password and never before', async () => {
    const account = await openAccount()
    const { secret } = await turnOn(account)
    expect(await signIn(account.email, 'not the password', codeOf(secret))).toBe('refused')
    expect(await signIn(account.email, PASSWORD)).toBe('CodeWanted')
    expect(await signIn(account.email, PASSWORD, codeOf(secret, 5))).toBe('CodeWrong')
    expect(await signIn(account.email, PASSWORD, codeOf(secret))).toBe('in')
  })

  test('takes each code once, also of eight at once', async () => {
    const account = await openAccount()
    const { secret, codes } = await turnOn(account)
    const timed = await Promise.all(Array.from({ length: 8 }, () => takeCode(account.id, codeOf(secret))))
    expect(timed.filter(Boolean)).toHaveLength(1)
    const written = (codes[0] ?? '').toLowerCase()
    const recovered = await Promise.all(Array.from({ length: 8 }, () => takeCode(account.id, written)))
    expect(recovered.filter(Boolean)).toHaveLength(1)
    expect(await getSecondFactor(account.id)).toMatchObject({ recoveryCodesLeft: 9 })
    expect(await takeCode((await openAccount()).id, codes[1] ?? '')).toBe(false)
  })

  test('is never half there', async () => {
    const { id } = await openAccount()
    for (const half of ['totp_since = now()', 'totp_last_step = 1'])
      await expect(
        withClient(database.urls.admin, (client) =>
          client.query(`update person set ${half} where id = $1`, [id]),
        ),
      ).rejects.toMatchObject({ constraint: 'person_totp_whole' })
  })

  test('stops guessing at the eighth try', async () => {
    const account = await openAccount()
    await turnOn(account)
    const said = []
    for (let attempt = 0; attempt < 9; attempt += 1)
      said.push(await signIn(account.email, PASSWORD, '000001'))
    expect(said.slice(0, 8)).toEqual(Array.from({ length: 8 }, () => 'CodeWrong'))
    expect(said[8]).toMatch(/^Too many attempts/)
  })

  test('and its recovery codes change for the password alone', async () => {
    const account = await openAccount()
    const { codes } = await turnOn(account)
    const wrong = { current: 'not the password' }
    await expect(createRecoveryCodes(account.session, wrong)).rejects.toMatchObject({ code: 'invalid' })
    await expect(endOwnSecondFactor(account.session, wrong)).rejects.toMatchObject({ code: 'invalid' })
    await createRecoveryCodes(account.session, { current: PASSWORD })
    expect(await takeCode(account.id, codes[0] ?? '')).toBe(false)
    await endOwnSecondFactor(account.session, { current: PASSWORD })
    expect(await getSecondFactor(account.id)).toEqual({ isOn: false, recoveryCodesLeft: 0 })
    expect(await signIn(account.email, PASSWORD)).toBe('in')
  })
})

describe('a workspace that asks for a second factor', () => {
  test('is closed to who has none, from the next request on, and to nobody else', async () => {
    const owner = await makeWorkspace('Asks for more')
    const keeper = await makeMember(owner, 'keeper')
    const elsewhere = await makeWorkspace('Asks for nothing')
    const secret = await createSession(String(keeper.personId), 'a tablet')
    const lacks = async (slug: string) => (await lookUpMembership(secret, slug))?.lacksSecondFactor
    expect(await lacks(owner.slug)).toBe(false)
    await within(owner, (tx) => updateSecondFactorRule(tx, owner.workspaceId, true))
    expect(await within(owner, (tx) => isSecondFactorRequired(tx, owner.workspaceId))).toBe(true)
    expect(await lacks(owner.slug)).toBe(true)
    expect(await lacks(elsewhere.slug)).toBe(false)
    expect(await listOwnScopes(String(keeper.personId))).toEqual([])
    await withClient(database.urls.admin, (client) =>
      client.query(`update person set totp_secret = 'x', totp_since = now() where id = $1`, [
        keeper.personId,
      ]),
    )
    expect(await lacks(owner.slug)).toBe(false)
    expect(await listOwnScopes(String(keeper.personId))).toHaveLength(1)
  })
})
