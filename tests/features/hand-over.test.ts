import sharp from 'sharp'
import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postReturn } from '@/app/api/v1/individuals/[id]/returns/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { requireHandOver } from '@/lib/features/hand-over/data'
import { createHandOver, endHandOver, recordTakeOver } from '@/lib/features/hand-over/mutations'
import { loadIndividualHistory } from '@/lib/features/history/data'
import { requireIndividuals } from '@/lib/features/individual/data'
import { listPapers } from '@/lib/features/paper/data'
import { createPaper } from '@/lib/features/paper/mutations'
import { listPhotos, requirePhotoBytes } from '@/lib/features/photo/data'
import { archivePhoto, createPhoto } from '@/lib/features/photo/mutations'
import { listMovements } from '@/lib/features/register/data'
import { archiveWorkspace } from '@/lib/features/workspace-archive/mutations'
import { readRefusal } from '@/lib/platform/database-error'
import { handOverCode, readHandOverCode } from '@/lib/platform/hand-over-link'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack, readHeadCount } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let breeder: Rack
let shop: Rack
let rival: Rack
beforeAll(async () => {
  breeder = await makeRack('Breeder lane')
  shop = await makeRack('Shop street')
  rival = await makeRack('Rival row')
})

const nymphs = (count: number) =>
  makeNymphs(breeder, {
    ...{ count, hatchedOn: breeder.day(-40), partedOn: breeder.day(-5), moults: 3 },
    lastMoultOn: breeder.day(-5),
  })
const offer = (animals: Nymph[]) =>
  within(breeder.owner, (tx, workspace) =>
    createHandOver(
      tx,
      { scope: breeder.owner, workspace },
      {
        ...{ individuals: animals.map(({ id }) => id), toName: 'The shop', note: '' },
      },
    ),
  )
const picture = (background: string) =>
  sharp({ create: { width: 40, height: 30, channels: 3, background } })
    .jpeg()
    .toBuffer()
const codeOf = (id: string) => handOverCode({ workspaceId: breeder.owner.workspaceId, id })
const take = (by: Rack, code: string) =>
  within(by.owner, (tx, workspace) =>
    recordTakeOver(tx, { scope: by.owner, workspace }, { code, containerKind: by.cup, zone: by.zone }),
  )
const read = (by: Rack, ids: string[]) =>
  within(by.owner, (tx, { workspaceId }) => requireIndividuals(tx, workspaceId, ids))
const look = (id: string) =>
  within(breeder.owner, (tx, { workspaceId }) => requireHandOver(tx, workspaceId, id))

describe('animals that move from one workspace to another', () => {
  test('leave there and arrive here with what was known of them, and both registers say so', async () => {
    const animals = await nymphs(3)
    const { id } = await offer(animals)
    expect(
      (
        await read(
          breeder,
          animals.map((one) => one.id),
        )
      ).map(({ whereabouts }) => whereabouts),
    ).toEqual(Array.from({ length: 3 }, () => 'single'))
    const { value } = await take(shop, codeOf(id))
    expect([value.ids.length, value.from]).toEqual([3, 'Breeder lane'])
    const [there] = await read(breeder, [String(animals[0]?.id)])
    expect(there?.whereabouts).toBe('given_away')
    const here = await read(shop, value.ids)
    for (const animal of here) {
      expect(animal).toMatchObject({ whereabouts: 'single', baselineMoults: 3, origin: 'bought' })
      expect(animal.baselineLastMoultOn).toBe(breeder.day(-5))
      expect(animal.supplier).toMatch(/^bred by Breeder lane, hatched .* in C-\d+, there /)
      expect(animal.stays).toHaveLength(1)
    }
    const history = await within(shop.owner, (tx, { workspaceId }) =>
      loadIndividualHistory(tx, workspaceId, String(value.ids[0])),
    )
    expect(history.takenOver?.record).toMatchObject({ hatchedOn: breeder.day(-40), moults: 3 })
    const period = { from: breeder.day(-1), until: breeder.day(0), hasBuyers: true, limit: 50 }
    const out = await within(breeder.owner, (tx, { workspaceId }) => listMovements(tx, workspaceId, period))
    const came = await within(shop.owner, (tx, { workspaceId }) => listMovements(tx, workspaceId, period))
    expect(out.filter(({ what }) => what === 'given away').map(({ other }) => other)).toEqual(
      Array.from({ length: 3 }, () => 'handed over to Shop street'),
    )
    expect(came.filter(({ what }) => what === 'received').map(({ other }) => other)[0]).toMatch(
      /^bred by Breeder/,
    )
    expect(await readHeadCount(breeder, String(animals[0]?.clutchId))).toMatchObject({
      givenAway: 3,
      single: 0,
    })
  })

  test('bring their photos and their papers along, which stay there as well', async () => {
    const [shown, other, plain] = await nymphs(3)
    const add = (one: Nymph | undefined, picture: Buffer) =>
      within(breeder.owner, (tx, workspace) =>
        createPhoto(
          tx,
          { scope: breeder.owner, workspace },
          { individual: String(one?.id), picture: picture.toString('base64') },
        ),
      )
    const [red, blue, green] = await Promise.all(['#c00', '#00c', '#0c0'].map(picture))
    for (const colour of [red, blue]) await add(shown, colour!)
    const gone = await add(shown, green!)
    await within(breeder.owner, (tx, { workspaceId }) =>
      archivePhoto(tx, workspaceId, { photo: gone.id, version: 1 }),
    )
    for (let count = 0; count < 12; count += 1) await add(other, count === 3 ? green! : blue!)
    const paper = { kind: 'proof_of_origin' as const, number: 'DE-9', on: breeder.day(-90) }
    await within(breeder.owner, (tx, workspace) =>
      createPaper(
        tx,
        { scope: breeder.owner, workspace },
        { subject: { kind: 'individual', id: shown!.id }, paper },
      ),
    )
    const { id } = await offer([shown!, other!, plain!])
    const { value } = await take(shop, codeOf(id))
    const ownOf = async (one: Nymph | undefined) => {
      const came = await within(shop.owner, (tx, { workspaceId }) =>
        tx.takenOver.findMany({
          where: { workspaceId, origin: id },
          select: { individualId: true, record: true },
        }),
      )
      const found = came.find(({ record }) => JSON.stringify(record).includes(`"label":"${one?.label}"`))
      return String(found?.individualId)
    }
    expect(value.ids).toHaveLength(3)
    const listAt = (by: Rack, individual: string) =>
      within(by.owner, (tx, { workspaceId }) => listPhotos(tx, workspaceId, individual))
    const here = await listAt(shop, await ownOf(shown))
    expect(here.map(({ onSheet }) => onSheet).sort()).toEqual([false, true])
    const bytesOf = (by: Rack, individualId: string, photoId: string) =>
      within(by.owner, (tx, { workspaceId }) => requirePhotoBytes(tx, workspaceId, { photoId, individualId }))
    const there = await listAt(breeder, shown!.id)
    expect(there).toHaveLength(2)
    const sheetOf = (photos: typeof here) => String(photos.find(({ onSheet }) => onSheet)?.id)
    expect(await bytesOf(shop, await ownOf(shown), sheetOf(here))).toEqual(
      await bytesOf(breeder, shown!.id, sheetOf(there)),
    )
    // As many as are looked at, the one on the sheet among them.
    const many = await listAt(shop, await ownOf(other))
    expect([many.length, many.filter(({ onSheet }) => onSheet).length]).toEqual([10, 1])
    expect(await listAt(shop, await ownOf(plain))).toEqual([])
    const papers = await within(shop.owner, async (tx, { workspaceId }) =>
      listPapers(tx, workspaceId, { kind: 'individual', id: await ownOf(shown) }),
    )
    expect(papers).toMatchObject([paper])
  })

  test('go to one of two who want them, and only once to that one', async () => {
    const { id } = await offer(await nymphs(2))
    const code = codeOf(id)
    const asked = await Promise.allSettled([
      take(shop, code),
      take(rival, code),
      take(shop, code),
      take(rival, code),
    ])
    expect(asked.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
    for (const one of asked)
      if (one.status === 'rejected')
        expect(['already-gone', 'already-recorded']).toContain(readRefusal(one.reason)?.code)
    await expect(take(shop, code)).rejects.toMatchObject({
      code: expect.stringMatching(/^already-(gone|recorded)$/),
    })
    const count = async (by: Rack) =>
      within(by.owner, (tx, { workspaceId }) => tx.takenOver.count({ where: { workspaceId, origin: id } }))
    expect([await count(shop), await count(rival)].sort()).toEqual([0, 2])
  })

  test('arrive after all where the other side was stopped between leaving and arriving', async () => {
    const { id } = await offer(await nymphs(2))
    const stopped = within(shop.owner, async (tx, workspace) => {
      const wish = { code: codeOf(id), containerKind: shop.cup, zone: shop.zone }
      await recordTakeOver(tx, { scope: shop.owner, workspace }, wish)
      throw new Error('stopped')
    })
    await expect(stopped).rejects.toThrow('stopped')
    expect((await look(id)).acceptedOn).not.toBeNull()
    await expect(take(rival, codeOf(id))).rejects.toMatchObject({ code: 'already-gone' })
    expect((await take(shop, codeOf(id))).value.ids).toHaveLength(2)
  })

  test('without whoever was sold meanwhile, and not at all when nobody is left', async () => {
    const animals = await nymphs(2)
    const { id } = await offer(animals)
    const sell = (one: Nymph | undefined) =>
      callApi(postSale, { token: breeder.token, body: { individuals: [one?.id] } })
    expect((await sell(animals[0])).status).toBe(201)
    expect((await take(shop, codeOf(id))).value.ids).toHaveLength(1)
    const others = await nymphs(1)
    const next = await offer(others)
    await sell(others[0])
    await expect(take(shop, codeOf(next.id))).rejects.toMatchObject({ code: 'already-gone' })
  })

  test('sold or taken over, whichever is first: never both', async () => {
    for (const animals of [await nymphs(1), await nymphs(1), await nymphs(1)]) {
      const { id } = await offer(animals)
      const [sold, taken] = await Promise.allSettled([
        callApi(postSale, { token: breeder.token, body: { individuals: [animals[0]?.id] } }),
        take(shop, codeOf(id)),
      ])
      const isSold = sold.status === 'fulfilled' && sold.value.status === 201
      expect(isSold).toBe(taken.status === 'rejected')
    }
  })

  test('cannot be taken once the offer is withdrawn, with a made-up code, by oneself, or from a workspace that is gone', async () => {
    const { id } = await offer(await nymphs(1))
    await expect(take(breeder, codeOf(id))).rejects.toMatchObject({ code: 'invalid' })
    const { version } = await look(id)
    await within(breeder.owner, (tx, workspace) => endHandOver(tx, workspace, { id, version }))
    await expect(take(shop, codeOf(id))).rejects.toMatchObject({ code: 'already-gone' })
    const changed = codeOf(id).replace(/.$/, (last) => (last === 'A' ? 'Q' : 'A'))
    for (const code of ['nonsense', changed, `${codeOf(id)}A`])
      await expect(take(shop, code)).rejects.toMatchObject({ code: 'invalid' })
    const moved = readHandOverCode(handOverCode({ workspaceId: rival.owner.workspaceId, id }))
    expect(moved?.scope.workspaceId).toBe(rival.owner.workspaceId)
    await expect(
      take(shop, handOverCode({ workspaceId: rival.owner.workspaceId, id })),
    ).rejects.toMatchObject({ code: 'not-found' })
  })

  test('are not brought back by an entry, since they are on record elsewhere', async () => {
    const animals = await nymphs(1)
    const { id } = await offer(animals)
    await take(shop, codeOf(id))
    const body = { on: breeder.day(0), containerKind: breeder.cup, zone: breeder.zone }
    const said = await callApi(postReturn, {
      token: breeder.token,
      params: { id: String(animals[0]?.id) },
      body,
    })
    expect([said.status, said.body.detail]).toEqual([
      409,
      expect.stringContaining('handed over to Shop street'),
    ])
  })

  test('and no more once the workspace that offers them is deleted', async () => {
    const { id } = await offer(await nymphs(1))
    await within(breeder.owner, async (tx, workspace) =>
      archiveWorkspace(tx, workspace, { name: workspace.name, version: workspace.version }),
    )
    await expect(take(shop, codeOf(id))).rejects.toMatchObject({ code: 'not-found' })
  })
})
