import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postDeath } from '@/app/api/v1/individuals/[id]/deaths/route'
import { GET as getIndividual } from '@/app/api/v1/individuals/[id]/route'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { GET as listSales, POST as postSale } from '@/app/api/v1/sales/route'
import { formatCode } from '@/lib/domain/label/code'
import { listContainerKinds } from '@/lib/features/container/data'
import { createSale } from '@/lib/features/sale/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack, readHeadCount } from '@/tests/support/rack'
import { animalLine, plainSale } from '@/tests/support/sale'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Shop')
  other = await makeRack('Other shop')
})

/** Nymphs in the middle of their fourth instar: nothing speaks against selling them. */
const makeSaleable = (count: number, room = rack) =>
  makeNymphs(room, {
    count,
    hatchedOn: room.day(-40),
    partedOn: room.day(-3),
    moults: 3,
    lastMoultOn: room.day(-4),
  })
const sell = (body: unknown, token = rack.token, headers = {}) => callApi(postSale, { token, body, headers })
const euros = (amount: number) => ({ amount, currency: 'EUR' })
const idsOf = (nymphs: Nymph[]) => nymphs.map(({ id }) => id)

describe('a sale', () => {
  test('takes what was paid, gives a receipt and moves the head count', async () => {
    const nymphs = await makeSaleable(3)
    const [a, b] = idsOf(nymphs)
    const counter = await makeToken(rack.owner, 'counter')
    const lines = [
      { individual: a, price: euros(1250) },
      { individual: b, price: euros(900) },
    ]
    const { status, body } = await sell({ on: rack.day(0), individuals: [a, b], lines }, counter)
    expect(status).toBe(201)
    expect(body).toMatchObject({ total: euros(2150), reversal: null })
    // Nothing keeps them here; that they are siblings is said of each.
    const said = body.warnings.map(({ code }: { code: string }) => code)
    expect(said).toEqual(['sibling-in-basket', 'sibling-in-basket'])
    expect(body.lines[0].description).toBe('Creobroter spp., 4th instar (hatchling counted as 1st), unsexed')
    const count = await readHeadCount(rack, String(nymphs[0]?.clutchId))
    expect(count).toMatchObject({ hatched: 3, together: 0, single: 1, sold: 2 })
    const sold = await callApi(getIndividual, { token: rack.token, params: { id: String(a) } })
    expect(sold.body).toMatchObject({ state: 'sold', container: null, zone: null })
  })

  test('of an animal that is sold already is refused, with its receipt, and sells none of the others', async () => {
    const nymphs = await makeSaleable(2)
    const [a, b] = idsOf(nymphs)
    const first = await sell({ individuals: [a] })
    const second = await sell({ individuals: [b, a] })
    expect(second.status).toBe(409)
    expect(second.body.detail).toMatch(
      new RegExp(
        `^${formatCode(String(nymphs[0]?.label))} was sold \\(.*\\)\\. It is on receipt ${first.body.receiptNumber}\\.$`,
      ),
    )
    const kept = await callApi(getIndividual, { token: rack.token, params: { id: String(b) } })
    expect(kept.body.state).toBe('single')
  })

  test('of one animal by eight people at once succeeds for exactly one', async () => {
    const [nymph] = await makeSaleable(1)
    const answers = await Promise.all(Array.from({ length: 8 }, () => sell({ individuals: [nymph?.id] })))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
    const count = await readHeadCount(rack, String(nymph?.clutchId))
    expect(count).toMatchObject({ single: 0, sold: 1 })
  })

  test('of the same handful in different order by eight people leaves every animal sold once', async () => {
    const one = await makeSaleable(3)
    const two = await makeSaleable(3)
    const ids = idsOf([...one, ...two])
    const shuffled = Array.from({ length: 8 }, (_, turn) => [
      ...ids.slice(turn % 6),
      ...ids.slice(0, turn % 6),
    ])
    const answers = await Promise.all(shuffled.map((individuals) => sell({ individuals })))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
    for (const clutch of [one, two])
      expect(await readHeadCount(rack, String(clutch[0]?.clutchId))).toMatchObject({ single: 0, sold: 3 })
  })

  test('sent twice under one key is one sale with one answer', async () => {
    const [nymph] = await makeSaleable(1)
    const key = { 'idempotency-key': 'till-1-0042' }
    const first = await sell({ individuals: [nymph?.id] }, rack.token, key)
    const again = await sell({ individuals: [nymph?.id] }, rack.token, key)
    expect(again).toMatchObject({ status: 201, body: first.body })
    expect((await sell({ individuals: [nymph?.id], note: 'other' }, rack.token, key)).status).toBe(422)
  })

  test('against the advice is recorded all the same, with what spoke against it', async () => {
    const [soft] = await makeNymphs(rack, {
      count: 1,
      hatchedOn: rack.day(-40),
      partedOn: rack.day(0),
      moults: 3,
      lastMoultOn: rack.day(0),
    })
    const lines = [{ individual: soft?.id, overrideReason: 'The buyer lives next door' }]
    const { status, body } = await sell({ individuals: [soft?.id], lines })
    expect(status).toBe(201)
    expect(body.warnings).toMatchObject([{ code: 'hardening' }])
    expect(body.lines[0]).toMatchObject({
      overrideReason: 'The buyer lives next door',
      warnings: [{ code: 'hardening' }],
    })
  })

  test.each([
    ['a day in the future', { on: '2999-01-01' }, 'on'],
    [
      'a price below nothing',
      { lines: [{ price: { amount: -1, currency: 'EUR' } }] },
      'lines.0.price.amount',
    ],
    ['another currency', { lines: [{ price: { amount: 5, currency: 'USD' } }] }, 'lines.0.price.currency'],
    ['an unknown field', { rebate: 3 }, 'rebate'],
  ])('with %s is refused at its field and takes no number', async (_, wrong, path) => {
    const [nymph] = await makeSaleable(1)
    const id = String(nymph?.id)
    const lines = 'lines' in wrong ? wrong.lines.map((line) => ({ individual: id, ...line })) : []
    const { status, body } = await sell({ individuals: [id], ...wrong, lines })
    expect(status).toBe(422)
    expect(body.errors).toMatchObject([{ path }])
    const kept = await callApi(getIndividual, { token: rack.token, params: { id } })
    expect(kept.body.state).toBe('single')
  })

  test('names each animal once, and only animals of this workspace', async () => {
    const [nymph] = await makeSaleable(1)
    const [foreign] = await makeSaleable(1, other)
    const twice = await sell({ individuals: [nymph?.id, nymph?.id] })
    expect(twice.body.errors).toMatchObject([{ path: 'individuals.1' }])
    expect((await sell({ individuals: [nymph?.id, foreign?.id] })).status).toBe(404)
  })

  test('on a day before the last moult on record is refused', async () => {
    const [nymph] = await makeSaleable(1)
    const { body } = await sell({ individuals: [nymph?.id], on: rack.day(-5) })
    expect(body.errors).toMatchObject([{ path: 'on' }])
  })

  test('is not for keepers and viewers', async () => {
    const [nymph] = await makeSaleable(1)
    for (const role of ['keeper', 'viewer'] as const) {
      const token = await makeToken(rack.owner, role)
      expect((await sell({ individuals: [nymph?.id] }, token)).status).toBe(403)
      expect((await callApi(listSales, { token })).status).toBe(403)
    }
  })
})

describe('receipt numbers', () => {
  test('have no gaps under twenty parallel sales of which every third is abandoned', async () => {
    const room = await makeRack('Busy shop')
    const nymphs = await makeSaleable(20, room)
    const sales = nymphs.map(({ id }, index) =>
      within(room.owner, async (tx, workspace) => {
        const sale = plainSale(workspace.today, [animalLine(id, 100)])
        const { value } = await createSale(tx, { scope: room.owner, workspace }, sale)
        if (index % 3 === 0) throw new Error('the customer changed their mind')
        return value
      }),
    )
    const outcomes = await Promise.allSettled(sales)
    const kept = outcomes.filter(({ status }) => status === 'fulfilled').length
    expect(kept).toBe(13)
    const { body } = await callApi(listSales, { token: room.token, query: '?limit=200' })
    const numbers = body.items.map(({ receiptNumber }: { receiptNumber: number }) => receiptNumber)
    expect(numbers).toEqual(Array.from({ length: 13 }, (_, index) => 13 - index))
    const count = await readHeadCount(room, String(nymphs[0]?.clutchId))
    expect(count).toMatchObject({ hatched: 20, single: 7, sold: 13 })
  })

  test('begin at one in every workspace and are listed in pages', async () => {
    const room = await makeRack('New shop')
    const nymphs = await makeSaleable(3, room)
    for (const { id } of nymphs) await sell({ individuals: [id] }, room.token)
    const first = await callApi(listSales, { token: room.token, query: '?limit=2' })
    expect(first.body.items.map(({ receiptNumber }: { receiptNumber: number }) => receiptNumber)).toEqual([
      3, 2,
    ])
    const rest = await callApi(listSales, {
      token: room.token,
      query: `?limit=2&cursor=${first.body.nextCursor}`,
    })
    expect(rest.body).toMatchObject({ items: [{ receiptNumber: 1 }], nextCursor: null })
  })
})

describe('a sale taken back', () => {
  const back = (id: string, more = {}, token = rack.token) =>
    callApi(postReversal, {
      token,
      params: { id },
      body: { on: rack.day(0), reason: 'Brought back', containerKind: rack.cup, zone: rack.zone, ...more },
    })

  test('brings its animals home, each into a container, and they can be sold again', async () => {
    const nymphs = await makeSaleable(2)
    const sold = await sell({ individuals: idsOf(nymphs) })
    const inUse = async () => {
      const kinds = await within(rack.owner, (tx, { workspaceId }) => listContainerKinds(tx, workspaceId))
      return kinds[0]?.inUse ?? 0
    }
    const before = await inUse()
    const answer = await back(sold.body.id)
    expect(answer.body.reversal).toEqual({ on: rack.day(0), reason: 'Brought back' })
    expect(await inUse()).toBe(before + 2)
    const count = await readHeadCount(rack, String(nymphs[0]?.clutchId))
    expect(count).toMatchObject({ single: 2, sold: 0 })
    const again = await sell({ individuals: idsOf(nymphs) })
    expect(again.status).toBe(201)
    expect(again.body.receiptNumber).toBeGreaterThan(sold.body.receiptNumber)
    const third = await sell({ individuals: [nymphs[0]?.id] })
    expect(third.body.detail).toMatch(new RegExp(`receipt ${again.body.receiptNumber}`))
  })

  test('can be taken back once, even by eight people at once', async () => {
    const nymphs = await makeSaleable(2)
    const sold = await sell({ individuals: idsOf(nymphs) })
    const answers = await Promise.all(Array.from({ length: 8 }, () => back(sold.body.id)))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
    const refused = answers.find(({ status }) => status === 409)
    expect(refused?.body.type).toBe('/problems/already-reversed')
  })

  test('needs a reason, a day not before the sale, and is not another workspace’s to take back', async () => {
    const [nymph] = await makeSaleable(1)
    const sold = await sell({ individuals: [nymph?.id], on: rack.day(-1) })
    expect((await back(sold.body.id, { reason: ' ' })).body.errors).toMatchObject([{ path: 'reason' }])
    expect((await back(sold.body.id, { on: rack.day(-2) })).body.errors).toMatchObject([{ path: 'on' }])
    expect((await back(sold.body.id, {}, other.token)).status).toBe(404)
  })

  test('is the only way back: a sold animal cannot die here', async () => {
    const [nymph] = await makeSaleable(1)
    await sell({ individuals: [nymph?.id] })
    const death = await callApi(postDeath, {
      token: rack.token,
      params: { id: String(nymph?.id) },
      body: { on: rack.day(0) },
    })
    expect(death.status).toBe(409)
    expect(death.body.detail).toMatch(/was sold/)
  })
})
