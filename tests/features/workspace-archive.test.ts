import { beforeAll, describe, expect, it } from 'vitest'
import { archiveWorkspace, restoreArchivedWorkspace } from '@/lib/features/workspace-archive/mutations'
import { requireToken } from '@/lib/platform/api/token'
import { listArchivedWorkspaces, lookUpArchived } from '@/lib/platform/archived-workspace'
import { listOwnScopes } from '@/lib/platform/own-scopes'
import { createSession, listOwnWorkspaces, lookUpMembership } from '@/lib/platform/session'
import { listDueLooks } from '@/lib/platform/watch-look'
import type { Scope } from '@/lib/platform/workspace'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { makeMember, makePerson, within } from '@/tests/support/workspaces'

const database = requireDatabase()

let rack: Rack
let keeper: Scope
let secret: string
const person = () => String(rack.owner.personId)

beforeAll(async () => {
  rack = await makeRack('Closing lane')
  keeper = await makeMember(rack.owner, 'keeper')
  secret = await createSession(person(), 'a test')
  await within(rack.owner, async (tx, { workspaceId }) => {
    await tx.zoneWatch.create({
      data: { workspaceId, zoneId: rack.zone, highC: 30, sinceAt: new Date(), silenceMinutes: 60 },
    })
    await tx.watchLook.create({ data: { workspaceId, zoneId: rack.zone, dueAt: new Date(0) } })
  })
})

const archive = (name: string) =>
  within(rack.owner, (tx, workspace) => archiveWorkspace(tx, workspace, { name, version: workspace.version }))

const takeBack = async () => {
  const scope = await lookUpArchived(person(), rack.owner.workspaceId)
  if (!scope) throw new Error('not there')
  await within(scope, (tx) => restoreArchivedWorkspace(tx, scope.workspaceId))
}

/** Every way in that is asked before a workspace is known, and what it says now. */
async function waysIn() {
  const read = await lookUpMembership(secret, rack.owner.slug)
  const token = await requireToken(`Bearer ${rack.token}`).then(
    () => 'open',
    ({ code }: { code: string }) => code,
  )
  return {
    page: read?.role ?? null,
    workspace: read?.workspaceId ?? null,
    token,
    own: (await listOwnWorkspaces(person())).length,
    device: (await listOwnScopes(person())).length,
    looks: (await listDueLooks(10)).length,
  }
}

const OPEN = { page: 'owner', token: 'open', own: 1, device: 1, looks: 1 }
const CLOSED = { page: null, workspace: null, token: 'unauthorised', own: 0, device: 0, looks: 0 }

describe('a workspace that is deleted', () => {
  it('is not deleted under another name than its own', async () => {
    await expect(archive('Closing Lane')).rejects.toMatchObject({
      code: 'invalid',
      fields: [{ path: 'name' }],
    })
    expect(await waysIn()).toMatchObject(OPEN)
  })

  it('is closed to pages, tokens, devices and alarms at once, and an owner has it back whole', async () => {
    await archive('Closing lane')
    expect(await waysIn()).toEqual(CLOSED)
    const [listed] = await listArchivedWorkspaces(person())
    expect(listed).toMatchObject({ name: 'Closing lane', slug: rack.owner.slug })
    await takeBack()
    expect(await waysIn()).toMatchObject(OPEN)
    expect(await listArchivedWorkspaces(person())).toEqual([])
  })

  it('is taken back by an owner of it alone, and for thirty days', async () => {
    await archive('Closing lane')
    const stranger = await makePerson('Stranger')
    for (const personId of [String(keeper.personId), stranger.personId]) {
      expect(await listArchivedWorkspaces(personId)).toEqual([])
      expect(await lookUpArchived(personId, rack.owner.workspaceId)).toBeUndefined()
    }
    await withClient(database.urls.admin, async (client) => {
      await client.query(`select set_config('app.workspace_id', $1, false)`, [rack.owner.workspaceId])
      await client.query(
        `update workspace set archived_at = now() - interval '31 days' where workspace_id = $1`,
        [rack.owner.workspaceId],
      )
    })
    expect(await listArchivedWorkspaces(person())).toEqual([])
    expect(await lookUpArchived(person(), rack.owner.workspaceId)).toBeUndefined()
  })
})
