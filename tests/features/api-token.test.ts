import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { GET } from '@/app/api/v1/zones/route'
import { listApiTokens } from '@/lib/features/api-token/data'
import { createApiToken, revokeApiToken } from '@/lib/features/api-token/mutations'
import { runOnce } from '@/lib/platform/operation'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeWorkspace, within } from '@/tests/support/workspaces'

const database = requireDatabase()
const till = { name: 'Till', role: 'counter' as const, days: 30 }

describe('an API token', () => {
  test('works until it is revoked', async () => {
    const owner = await makeWorkspace('One till')
    const { id, token } = await within(owner, (tx) => createApiToken(tx, owner, till))
    expect((await callApi(GET, { token })).status).toBe(200)
    await within(owner, (tx) => revokeApiToken(tx, owner.workspaceId, id))
    expect((await callApi(GET, { token })).status).toBe(401)
    const [row] = await within(owner, (tx) => listApiTokens(tx, owner.workspaceId))
    expect(row).toMatchObject({ name: 'Till', role: 'counter', state: 'revoked' })
    await expect(within(owner, (tx) => revokeApiToken(tx, owner.workspaceId, id))).rejects.toMatchObject({
      code: 'not-found',
    })
  })

  test('past its last day does not work', async () => {
    const owner = await makeWorkspace('Old till')
    const { id, token } = await within(owner, (tx) => createApiToken(tx, owner, till))
    await within(owner, (tx) =>
      tx.apiToken.updateMany({
        where: { workspaceId: owner.workspaceId, id },
        data: { expiresAt: new Date(Date.now() - 1000) },
      }),
    )
    expect((await callApi(GET, { token })).status).toBe(401)
    expect((await within(owner, (tx) => listApiTokens(tx, owner.workspaceId)))[0]?.state).toBe('expired')
  })

  test('sees its own workspace and no other', async () => {
    const owner = await makeWorkspace('Own till')
    const neighbour = await makeWorkspace('Their till')
    await within(neighbour, (tx) =>
      tx.zone.create({ data: { workspaceId: neighbour.workspaceId, name: 'Theirs' } }),
    )
    const { id, token } = await within(owner, (tx) => createApiToken(tx, owner, till))
    expect((await callApi(GET, { token })).body.items).toEqual([])
    await within(neighbour, async (tx) => {
      expect(await listApiTokens(tx, neighbour.workspaceId)).toEqual([])
      await expect(revokeApiToken(tx, neighbour.workspaceId, id)).rejects.toMatchObject({ code: 'not-found' })
    })
  })

  test('is said once: neither the records nor a second answer to the same call say it again', async () => {
    const owner = await makeWorkspace('Said once')
    const call = {
      key: randomUUID(),
      content: till,
      keep: ({ id }: { id: string; token: string | null }) => ({ id, token: null }),
    }
    const make = () =>
      runOnce<{ id: string; token: string | null }>(owner, call, (tx) => createApiToken(tx, owner, till))
    const first = await make()
    expect(first.value.token).toMatch(/^[\w-]{43}$/)
    expect(await make()).toEqual({ value: { id: first.value.id, token: null }, repeated: true })
    const { rows } = await withClient(database.urls.admin, (client) =>
      client.query(
        `select count(*)::int as count from (
           select to_jsonb(o)::text as row from operation o union all select to_jsonb(a)::text from audit_entry a
           union all select to_jsonb(t)::text from api_token t
         ) as everything where position($1 in row) > 0`,
        [first.value.token],
      ),
    )
    expect(rows[0].count).toBe(0)
  })
})
