import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postCode } from '@/app/api/v1/hand-overs/[id]/code/route'
import { GET as getHandOver } from '@/app/api/v1/hand-overs/[id]/route'
import { POST as postWithdrawal } from '@/app/api/v1/hand-overs/[id]/withdrawal/route'
import { GET as listHandOvers, POST as postHandOver } from '@/app/api/v1/hand-overs/route'
import { GET as getIndividual } from '@/app/api/v1/individuals/[id]/route'
import { POST as postItem } from '@/app/api/v1/show-boxes/[id]/items/route'
import { GET as getBox } from '@/app/api/v1/show-boxes/[id]/route'
import { POST as postSettlement } from '@/app/api/v1/show-boxes/[id]/settlement/route'
import { GET as listBoxes, POST as postBox } from '@/app/api/v1/show-boxes/route'
import { POST as postTakeOver } from '@/app/api/v1/take-overs/route'
import { POST as postClosing } from '@/app/api/v1/wishes/[id]/closing/route'
import { GET as listWishes, POST as postWish } from '@/app/api/v1/wishes/route'
import { createBuyer } from '@/lib/features/buyer/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let shop: Rack
let fit: Nymph[]
let buyer: string
beforeAll(async () => {
  rack = await makeRack('Programmed hall')
  shop = await makeRack('Programmed shop')
  const brood = { hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-3) }
  fit = await makeNymphs(rack, { count: 8, ...brood })
  const made = await within(rack.owner, (tx, workspace) =>
    createBuyer(tx, workspace, {
      ...{
        name: 'W. Waiter',
        email: '',
        phone: '',
        address: '',
        country: '',
        note: '',
        language: '' as const,
      },
      ...{ experience: 'unknown' as const, keepConsent: true, newsConsent: false },
    }),
  )
  buyer = made.id
})

type Route = Parameters<typeof callApi>[0]
const post = (
  route: Route,
  body: unknown,
  more: { id?: string; token?: string; headers?: Record<string, string> } = {},
) =>
  callApi(route, {
    token: more.token ?? rack.token,
    body,
    ...(more.id ? { params: { id: more.id } } : {}),
    ...(more.headers ? { headers: more.headers } : {}),
  })
const read = (route: Route, id: string, token = rack.token) => callApi(route, { token, params: { id } })

describe('wishes over the API', () => {
  const wish = { species: 'creobroter-spp', stage: '4', count: 3 }

  test('say whether the room can meet them, earlier ones served first, and name nobody', async () => {
    const near = { ...wish, buyer, by: rack.day(1) }
    const first = await post(postWish, near)
    expect([first.status, first.body.errors]).toEqual([201, undefined])
    expect(first.body).toMatchObject({ buyer, moults: 3, count: 3, outlook: { status: 'likely' } })
    const second = await post(postWish, { ...near, count: 8 })
    expect(second.body.outlook.status).toBe('unlikely')
    const { body } = await callApi(listWishes, { token: rack.token })
    expect(body.items.map(({ id }: { id: string }) => id)).toEqual([first.body.id, second.body.id])
    expect(JSON.stringify(body)).not.toContain('Waiter')
    const none = await callApi(listWishes, { token: rack.token, query: `?buyer=${fit[0]?.id}` })
    expect(none.body.items).toEqual([])
  })

  test('are closed once, with the version that was looked at', async () => {
    const { body } = await post(postWish, { ...wish, buyer, by: rack.day(1) })
    const stale = await post(postClosing, { as: 'filled', version: 7 }, { id: body.id })
    expect(stale.status).toBe(409)
    expect((await post(postClosing, { as: 'filled' }, { id: body.id })).status).toBe(201)
    expect((await post(postClosing, { as: 'filled' }, { id: body.id })).status).toBe(404)
    expect((await post(postWish, { ...wish, buyer, by: rack.day(-1) })).body.errors[0].path).toBe('by')
  })
})

describe('show boxes over the API', () => {
  test.each([' ', '0', '2026-02-30'])('are not packed on %j, which is said at its place', async (packOn) => {
    const asked = { name: 'Fair', packOn, returnOn: rack.day(1), count: 2, languages: ['en'] }
    const refused = await post(postBox, asked)
    expect(refused.status).toBe(422)
    expect(refused.body.errors).toMatchObject([{ path: 'packOn' }])
  })

  test('are packed with animals and things, read and settled', async () => {
    const asked = { name: 'Fair', packOn: rack.day(0), returnOn: rack.day(1), count: 2, languages: ['en'] }
    const made = await post(postBox, { ...asked, species: 'creobroter-spp' })
    expect([made.status, made.body.errors]).toEqual([201, undefined])
    expect(made.body.animals).toHaveLength(2)
    const { id } = made.body
    const line = { kind: 'container', containerKind: rack.cup, quantity: 5, price: 90 }
    const stale = await post(postItem, { line }, { id, headers: { 'if-match': '9' } })
    expect(stale.status).toBe(409)
    const packed = await post(postItem, { line }, { id })
    expect(packed.body.items).toMatchObject([{ number: 1, part: 1, packed: 5, sold: 0, home: null }])
    const settled = await post(
      postSettlement,
      {
        labels: [fit.find((one) => one.id === made.body.animals[0].individual)?.label],
        counts: [{ item: 1, home: 4 }],
      },
      { id },
    )
    expect(settled.body).toMatchObject({ home: 1, sold: 0, things: { missing: [{ count: 1 }], over: [] } })
    expect(settled.body.missing).toHaveLength(1)
    expect((await read(getBox, id)).body).toMatchObject({ settledOn: rack.today, items: [{ home: 4 }] })
    expect((await callApi(listBoxes, { token: rack.token })).body.items[0].id).toBe(id)
    expect((await read(getBox, id, shop.token)).status).toBe(404)
    const unknown = await post(postSettlement, { counts: [{ item: 9, home: 1 }] }, { id })
    expect(unknown.body.errors[0].path).toBe('counts.0.home')
  })

  test('are not for keepers', async () => {
    const token = await makeToken(rack.owner, 'keeper')
    expect((await callApi(listBoxes, { token })).status).toBe(403)
  })
})

describe('hand-overs over the API', () => {
  const offer = async () => {
    const [nymph] = await makeNymphs(rack, {
      ...{ count: 1, hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-3) },
    })
    const made = await post(postHandOver, { individuals: [nymph?.id], toName: 'The shop' })
    expect(made.status).toBe(201)
    return { id: String(made.body.id), nymph: String(nymph?.id) }
  }
  const takeOver = (code: string) =>
    post(postTakeOver, { code, containerKind: shop.cup, zone: shop.zone }, { token: shop.token })

  test('are offered, taken by the code, and read on both sides', async () => {
    const { id, nymph } = await offer()
    const shown = await post(postCode, {}, { id })
    expect(shown.status).toBe(201)
    const taken = await takeOver(shown.body.code)
    expect([taken.status, taken.body.from]).toEqual([201, 'Programmed hall'])
    const there = await read(getIndividual, nymph)
    expect(there.body.state).toBe('given_away')
    const here = await read(getIndividual, taken.body.individuals[0], shop.token)
    expect(here.body.state).toBe('single')
    const after = await read(getHandOver, id)
    expect(after.body).toMatchObject({
      acceptedOn: rack.today,
      animals: [{ individual: nymph, hasLeft: true }],
    })
    expect((await post(postCode, {}, { id })).status).toBe(409)
    expect((await takeOver(shown.body.code)).status).toBe(409)
  })

  test('withdrawn, nobody can take them', async () => {
    const { id } = await offer()
    const { code } = (await post(postCode, {}, { id })).body
    expect((await post(postWithdrawal, { version: 9 }, { id })).status).toBe(409)
    expect((await post(postWithdrawal, {}, { id })).body.withdrawnOn).toBe(rack.today)
    expect((await takeOver(code)).status).toBe(409)
    expect((await takeOver('x')).body.errors[0].path).toBe('code')
  })

  test('show their code to nobody who only reads, and keep it in no answer', async () => {
    const { id } = await offer()
    const viewer = await makeToken(rack.owner, 'viewer')
    expect((await post(postCode, {}, { id, token: viewer })).status).toBe(403)
    expect((await read(getHandOver, id, viewer)).status).toBe(200)
    const key = { 'idempotency-key': 'show-me' }
    const { code } = (await post(postCode, {}, { id, headers: key })).body
    const kept = await within(rack.owner, (tx, { workspaceId }) =>
      tx.operation.findMany({ where: { workspaceId } }),
    )
    expect(JSON.stringify(kept)).not.toContain(code)
    const list = await callApi(listHandOvers, { token: viewer })
    expect(JSON.stringify(list.body)).not.toContain(code)
  })
})
