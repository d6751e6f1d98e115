import { describe, expect, test } from 'vitest'
import { GET, POST } from '@/app/api/v1/container-kinds/route'
import { GET as GET_CONTAINERS } from '@/app/api/v1/containers/route'
import { addDays } from '@/lib/domain/calendar/date'
import { listContainerKinds, listContainers, requireContainerKind } from '@/lib/features/container/data'
import {
  archiveContainerKind,
  createContainerKind,
  createContainerOrder,
  recordArrival,
  updateContainerKind,
} from '@/lib/features/container/mutations'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

const cup = {
  name: '120 ml cup',
  volumeMl: 120,
  innerHeightMm: 68,
  innerWidthMm: 60,
  single: true,
  stock: 60,
}

describe('a kind of container', () => {
  test('has free what is in stock and not in use', async () => {
    const owner = await makeWorkspace('Cup counter')
    const kind = await within(owner, async (tx, workspace) => {
      const { workspaceId } = workspace
      const { id } = await createContainerKind(tx, workspace, cup)
      const taken = { workspaceId, containerKindId: id, single: true }
      await tx.container.createMany({ data: [taken, taken, { ...taken, emptiedOn: new Date() }] })
      return requireContainerKind(tx, workspaceId, id)
    })
    expect(kind).toMatchObject({ stock: 60, inUse: 2, free: 58 })
  })

  test('on order is expected on its day and becomes stock once it has arrived, once', async () => {
    const owner = await makeWorkspace('On order')
    const { id } = await within(owner, (tx, workspace) => createContainerKind(tx, workspace, cup))
    const order = await within(owner, (tx, workspace) =>
      createContainerOrder(tx, workspace, { kindId: id, count: 100, on: addDays(workspace.today, 4) }),
    )
    const read = () => within(owner, (tx) => requireContainerKind(tx, owner.workspaceId, id))
    expect((await read()).ordered).toMatchObject([{ count: 100 }])
    const arrive = () => within(owner, (tx, workspace) => recordArrival(tx, workspace, { orderId: order.id }))
    const [one, two] = await Promise.allSettled([arrive(), arrive()])
    expect([one.status, two.status].sort()).toEqual(['fulfilled', 'rejected'])
    expect(await read()).toMatchObject({ stock: 160, ordered: [] })
    await expect(arrive()).rejects.toMatchObject({ code: 'already-recorded' })
  })

  test('cannot have arrived tomorrow', async () => {
    const owner = await makeWorkspace('Tomorrow')
    const attempt = within(owner, async (tx, workspace) => {
      const { id } = await createContainerKind(tx, workspace, cup)
      const order = { kindId: id, count: 5, on: workspace.today }
      const made = await createContainerOrder(tx, workspace, order)
      await recordArrival(tx, workspace, { orderId: made.id, on: addDays(workspace.today, 1) })
    })
    await expect(attempt).rejects.toMatchObject({ fields: [{ path: 'on', message: 'is in the future' }] })
  })

  test('recounted on the shelf by two people shows the second what the first counted', async () => {
    const owner = await makeWorkspace('Recount')
    const { id } = await within(owner, (tx, workspace) => createContainerKind(tx, workspace, cup))
    const recount = (stock: number) =>
      within(owner, (tx) =>
        updateContainerKind(tx, owner.workspaceId, { id, version: 1, name: cup.name, stock }),
      )
    await recount(57)
    await expect(recount(58)).rejects.toMatchObject({ code: 'stale', present: { stock: 57, version: 2 } })
  })

  test('in use cannot be put away', async () => {
    const owner = await makeWorkspace('In use')
    const attempt = within(owner, async (tx, workspace) => {
      const { workspaceId } = workspace
      const { id } = await createContainerKind(tx, workspace, cup)
      await tx.container.create({ data: { workspaceId, containerKindId: id, single: true } })
      await archiveContainerKind(tx, workspaceId, { id, version: 1 })
    })
    await expect(attempt).rejects.toThrow('1 of them are in use')
  })

  test('of another workspace is not there', async () => {
    const owner = await makeWorkspace('Own cups')
    const neighbour = await makeWorkspace('Their cups')
    const { id } = await within(neighbour, (tx, workspace) => createContainerKind(tx, workspace, cup))
    const order = await within(neighbour, (tx, workspace) =>
      createContainerOrder(tx, workspace, { kindId: id, count: 1, on: workspace.today }),
    )
    await within(owner, async (tx, workspace) => {
      const { workspaceId, today } = workspace
      expect(await listContainerKinds(tx, workspaceId)).toEqual([])
      expect(await listContainers(tx, workspaceId, { limit: 5 })).toEqual({ items: [], nextCursor: null })
      for (const attempt of [
        () => requireContainerKind(tx, workspaceId, id),
        () => updateContainerKind(tx, workspaceId, { id, version: 1, name: 'x', stock: 1 }),
        () => archiveContainerKind(tx, workspaceId, { id, version: 1 }),
        () => createContainerOrder(tx, workspace, { kindId: id, count: 1, on: today }),
        () => recordArrival(tx, workspace, { orderId: order.id }),
      ])
        await expect(attempt()).rejects.toMatchObject({ code: 'not-found' })
    })
  })
})

describe('containers over the API', () => {
  test('a kind is added with what is on order', async () => {
    const token = await makeToken(await makeWorkspace('Shop shelf'), 'keeper')
    const ordered = [{ count: 200, on: '2026-12-01' }]
    const made = await callApi(POST, { token, body: { ...cup, ordered } })
    expect(made.status).toBe(201)
    expect(made.body).toMatchObject({ free: 60, ordered })
    expect((await callApi(GET, { token })).body.items).toEqual([made.body])
  })

  test('containers in use come a page at a time, each with who is in it', async () => {
    const owner = await makeWorkspace('Many cups')
    await within(owner, async (tx, workspace) => {
      const { workspaceId } = workspace
      const { id } = await createContainerKind(tx, workspace, cup)
      const taken = { workspaceId, containerKindId: id, single: true }
      await tx.container.createMany({ data: Array.from({ length: 5 }, () => taken) })
    })
    const token = await makeToken(owner, 'viewer')
    const first = await callApi(GET_CONTAINERS, { token, query: '?limit=3' })
    expect(first.body.items).toHaveLength(3)
    const query = `?limit=3&cursor=${first.body.nextCursor}`
    const second = await callApi(GET_CONTAINERS, { token, query })
    expect(second.body).toMatchObject({ nextCursor: null })
    expect(second.body.items).toHaveLength(2)
    expect((await callApi(GET_CONTAINERS, { token, query: '?cursor=nonsense' })).status).toBe(422)
  })
})
