import { beforeAll, describe, expect, it } from 'vitest'
import { requireToken } from '@/lib/platform/api/token'
import { createSession, endSession, getSession, lookUpMembership } from '@/lib/platform/session'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeToken, makeWorkspace } from '@/tests/support/workspaces'

const database = requireDatabase()
type Owner = Awaited<ReturnType<typeof makeWorkspace>>

let owner: Owner
let neighbour: Owner
beforeAll(async () => {
  owner = await makeWorkspace('Session lane')
  neighbour = await makeWorkspace('Neighbour lane')
})

/** Changes what the database knows, past every gate. */
async function change(sql: string, values: unknown[] = []): Promise<void> {
  await withClient(database.urls.admin, async (client) => {
    await client.query(`select set_config('app.workspace_id', $1, false)`, [owner.workspaceId])
    await client.query(sql, values)
  })
}

const signIn = (who: Owner) => createSession(String(who.personId), 'a tablet')
const roleOf = async (secret: string, slug: string) => (await lookUpMembership(secret, slug))?.role

describe('a signed-in device', () => {
  it('is known by its secret alone, and belongs where its person does', async () => {
    const secret = await signIn(owner)
    expect(await getSession(secret)).toMatchObject({ personId: owner.personId })
    expect(await roleOf(secret, owner.slug)).toBe('owner')
    expect(await roleOf(secret, neighbour.slug)).toBeNull()
    expect(await getSession(`${secret.slice(0, -1)}_`)).toBeUndefined()
  })

  it.each([
    ['it was signed out', `update login_session set ended_at = now() where person_id = $1`],
    ['thirty days are over', `update login_session set expires_at = now() where person_id = $1`],
    [
      'nobody used it for a week',
      `update login_session set last_seen_at = now() - interval '7 days 1 minute' where person_id = $1`,
    ],
  ])('is nobody from the very next request on once %s', async (_when, sql) => {
    const secret = await signIn(owner)
    await change(sql, [owner.personId])
    expect(await getSession(secret)).toBeUndefined()
    expect(await lookUpMembership(secret, owner.slug)).toBeUndefined()
  })

  it('signs out for itself and leaves the person’s other devices alone', async () => {
    const [tablet, desk] = [await signIn(owner), await signIn(owner)]
    await endSession(tablet)
    expect(await getSession(tablet)).toBeUndefined()
    expect(await getSession(desk)).toBeDefined()
  })

  it('does what its person’s role allows now, and nothing after they have left', async () => {
    const secret = await signIn(owner)
    await change(`update membership set role = 'viewer' where person_id = $1`, [owner.personId])
    expect(await roleOf(secret, owner.slug)).toBe('viewer')
    await change(`update membership set ended_at = now() where person_id = $1`, [owner.personId])
    expect(await roleOf(secret, owner.slug)).toBeNull()
    await change(`update membership set ended_at = null, role = 'owner' where person_id = $1`, [
      owner.personId,
    ])
  })
})

describe('a token', () => {
  const ask = (token: string) => requireToken(`Bearer ${token}`)

  it('opens its own workspace with its own role', async () => {
    const token = await makeToken(owner, 'counter')
    expect(await ask(token)).toMatchObject({ workspaceId: owner.workspaceId, role: 'counter' })
  })

  it.each([
    ['it was revoked', 'update api_token set revoked_at = now()'],
    ['its time is over', 'update api_token set expires_at = now()'],
    ['who made it has left', 'update membership set ended_at = now()'],
  ])('opens nothing from the very next request on once %s', async (_when, sql) => {
    const leaving = await makeWorkspace('Leaving lane')
    const token = await makeToken(leaving, 'owner')
    await ask(token)
    await withClient(database.urls.admin, async (client) => {
      await client.query(`select set_config('app.workspace_id', $1, false)`, [leaving.workspaceId])
      await client.query(`${sql} where workspace_id = $1`, [leaving.workspaceId])
    })
    await expect(ask(token)).rejects.toMatchObject({ code: 'unauthorised' })
  })

  it('is refused when it is misspelt, empty or missing', async () => {
    for (const header of [null, '', 'Bearer ', 'Bearer short', `Bearer ${'x'.repeat(43)}`])
      await expect(requireToken(header)).rejects.toMatchObject({ code: 'unauthorised' })
  })
})
