import { describe, expect, test } from 'vitest'
import { GET } from '@/app/api/v1/zones/route'
import { listMembers } from '@/lib/features/membership/data'
import { endMembership, updateRole } from '@/lib/features/membership/mutations'
import { createSession, lookUpMembership } from '@/lib/platform/session'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeMember, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

describe('a person in a workspace', () => {
  test('given another role works under it from the very next request', async () => {
    const owner = await makeWorkspace('Role change')
    const keeper = await makeMember(owner, 'keeper')
    const personId = String(keeper.personId)
    const secret = await createSession(personId, 'phone on the shelf')
    expect((await lookUpMembership(secret, owner.slug))?.role).toBe('keeper')
    await within(owner, (tx) => updateRole(tx, owner.workspaceId, { personId, version: 1, role: 'counter' }))
    expect((await lookUpMembership(secret, owner.slug))?.role).toBe('counter')
  })

  test('whose role two owners change at once gets the first, and the second sees it', async () => {
    const owner = await makeWorkspace('Two owners')
    const personId = String((await makeMember(owner, 'viewer')).personId)
    const give = (role: 'keeper' | 'counter') =>
      within(owner, (tx) => updateRole(tx, owner.workspaceId, { personId, version: 1, role }))
    await give('keeper')
    await expect(give('counter')).rejects.toMatchObject({
      code: 'stale',
      present: { role: 'keeper', version: 2 },
    })
  })

  test('who has left is shown nothing more, and stays the author of what they recorded', async () => {
    const owner = await makeWorkspace('Has left')
    const keeper = await makeMember(owner, 'keeper')
    const personId = String(keeper.personId)
    const secret = await createSession(personId, 'old tablet')
    await within(keeper, (tx) =>
      tx.zone.create({ data: { workspaceId: owner.workspaceId, name: 'Their shelf' } }),
    )
    await within(owner, (tx) => endMembership(tx, owner.workspaceId, personId))
    expect(await lookUpMembership(secret, owner.slug)).toMatchObject({ workspaceId: null, role: null })
    await within(owner, async (tx) => {
      const members = await listMembers(tx, owner.workspaceId)
      expect(members.find((member) => member.personId === personId)?.endedAt).not.toBeNull()
      const entry = await tx.auditEntry.findFirstOrThrow({
        where: { workspaceId: owner.workspaceId, tableName: 'zone' },
      })
      expect(entry.personId).toBe(personId)
    })
  })
})

describe('the last owner', () => {
  test('cannot leave or become something else', async () => {
    const owner = await makeWorkspace('Only owner')
    const personId = String(owner.personId)
    const { workspaceId } = owner
    await expect(within(owner, (tx) => endMembership(tx, workspaceId, personId))).rejects.toMatchObject({
      code: 'last-owner',
    })
    const step = { personId, version: 1, role: 'keeper' as const }
    await expect(within(owner, (tx) => updateRole(tx, workspaceId, step))).rejects.toMatchObject({
      code: 'last-owner',
    })
  })

  test('stays one, however often two owners leave at the same moment', async () => {
    for (let round = 0; round < 20; round++) {
      const owner = await makeWorkspace(`Both leave ${round}`)
      const second = await makeMember(owner, 'owner')
      const { workspaceId } = owner
      const leave = (scope: typeof second) =>
        within(scope, (tx) =>
          round % 2 === 0
            ? endMembership(tx, workspaceId, String(scope.personId))
            : updateRole(tx, workspaceId, { personId: String(scope.personId), version: 1, role: 'viewer' }),
        )
      const outcomes = await Promise.allSettled([leave(owner), leave(second)])
      expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected'])
      const left = await within(owner, (tx) => listMembers(tx, workspaceId))
      expect(left.filter((member) => member.role === 'owner' && !member.endedAt)).toHaveLength(1)
    }
  })

  test('stays one when eight owners leave at the same moment', async () => {
    const owner = await makeWorkspace('Eight leave')
    const { workspaceId } = owner
    const others = []
    for (let made = 0; made < 7; made += 1) others.push(await makeMember(owner, 'owner'))
    const outcomes = await Promise.allSettled(
      [owner, ...others].map((scope) =>
        within(scope, (tx) => endMembership(tx, workspaceId, String(scope.personId))),
      ),
    )
    const refused = outcomes.filter((outcome) => outcome.status === 'rejected')
    expect(refused).toMatchObject([{ reason: { code: 'last-owner' } }])
    const left = await within(owner, (tx) => listMembers(tx, workspaceId))
    expect(left.filter((member) => member.role === 'owner' && !member.endedAt)).toHaveLength(1)
  })
})

describe('an API token', () => {
  test('ends with the right of whoever made it to make one, and that is said', async () => {
    const owner = await makeWorkspace('Token maker')
    const second = await makeMember(owner, 'owner')
    const token = await makeToken(second, 'counter')
    expect((await callApi(GET, { token })).status).toBe(200)
    const change = { personId: String(second.personId), version: 1, role: 'keeper' as const }
    const warnings = await within(owner, (tx) => updateRole(tx, owner.workspaceId, change))
    expect(warnings).toEqual([
      { code: 'tokens-revoked', message: 'An API token they had made does not work any more.' },
    ])
    expect((await callApi(GET, { token })).status).toBe(401)
  })
})

test('the people of another workspace can be neither seen nor changed', async () => {
  const owner = await makeWorkspace('Own people')
  const neighbour = await makeWorkspace('Their people')
  const personId = String((await makeMember(neighbour, 'keeper')).personId)
  await within(owner, async (tx) => {
    const { workspaceId } = owner
    expect((await listMembers(tx, workspaceId)).map((member) => member.personId)).toEqual([owner.personId])
    await expect(endMembership(tx, workspaceId, personId)).rejects.toMatchObject({ code: 'not-found' })
    await expect(updateRole(tx, workspaceId, { personId, version: 1, role: 'viewer' })).rejects.toMatchObject(
      { code: 'not-found' },
    )
  })
})
