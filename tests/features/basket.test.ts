import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postReturn } from '@/app/api/v1/sales/[id]/returns/route'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { GET as getSale } from '@/app/api/v1/sales/[id]/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { listContainerKinds } from '@/lib/features/container/data'
import { createTaxRate } from '@/lib/features/tax-rate/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeClutch, makeNymphs, makeRack, type Rack, readHeadCount } from '@/tests/support/rack'
import { makeJar, makeOotheca } from '@/tests/support/stock'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Basket')
  await within(rack.owner, async (tx, { workspaceId }) => {
    await createTaxRate(tx, workspaceId, { name: 'full', percent: 19, appliesTo: ['container', 'other'] })
    await createTaxRate(tx, workspaceId, { name: 'reduced', percent: 7, appliesTo: ['animal', 'lot'] })
  })
})

const euros = (amount: number) => ({ amount, currency: 'EUR' })
const sell = (body: unknown, room = rack) => callApi(postSale, { token: room.token, body })
const load = (id: string) => callApi(getSale, { token: rack.token, params: { id } })
const giveBack = (id: string, lines: unknown, more = {}) =>
  callApi(postReturn, {
    token: rack.token,
    params: { id },
    body: { on: rack.today, reason: 'came back', lines, ...more },
  })
const place = () => ({ containerKind: rack.cup, zone: rack.zone })

const makeSiblings = (count: number) =>
  within(rack.owner, (tx, workspace) =>
    makeClutch(tx, workspace, { rack, brood: { count, hatchedOn: rack.day(-30) } }),
  )
const makeNymph = async () => {
  const brood = {
    count: 1,
    hatchedOn: rack.day(-40),
    partedOn: rack.day(-3),
    moults: 3,
    lastMoultOn: rack.day(-4),
  }
  const [nymph] = await makeNymphs(rack, brood)
  return String(nymph?.id)
}
const freeCups = () =>
  within(rack.owner, async (tx, { workspaceId }) => (await listContainerKinds(tx, workspaceId))[0]?.free)

describe('a basket of everything', () => {
  test('is one receipt with taxes by rate, discounts, two ways of paying and change', async () => {
    const [animal, clutch, jar, ootheca] = [
      await makeNymph(),
      await makeSiblings(20),
      await makeJar(rack),
      await makeOotheca(rack),
    ]
    const before = (await freeCups()) ?? 0
    const { status, body } = await sell({
      individuals: [animal],
      lines: [{ individual: animal, price: euros(2500) }],
      stock: [
        { kind: 'lot', clutch, males: 1, females: 2, unsexed: 3, price: euros(300) },
        { kind: 'egg_case', eggCase: ootheca, price: euros(1800), taxPercent: 7 },
        { kind: 'culture', culture: jar, price: euros(600) },
        { kind: 'container', containerKind: rack.cup, quantity: 4, price: euros(90), discount: euros(60) },
        { kind: 'pack', line: 'hydei', quantity: 2, items: 100, price: euros(350) },
        { kind: 'other', description: 'Heat pack', quantity: 1, price: euros(250) },
      ],
      discount: euros(500),
      payments: [
        { kind: 'card', amount: euros(5000) },
        { kind: 'cash', amount: euros(5000) },
      ],
    })
    expect([status, body.errors]).toEqual([201, undefined])
    expect(body.total.amount).toBe(2500 + 1800 + 1800 + 600 + 300 + 700 + 250 - 500)
    expect(body.lines.map(({ kind }: { kind: string }) => kind)).toEqual([
      'animal',
      'lot',
      'egg_case',
      'culture',
      'container',
      'pack',
      'other',
    ])
    expect(body.lines[1]).toMatchObject({ quantity: 6, lot: { males: 1, females: 2, unsexed: 3 } })
    expect(body.lines[1].description).toMatch(/lot 1\.2\.3/)
    expect(body.taxes.map(({ percent }: { percent: number }) => percent)).toEqual([0, 7, 19])
    const sums = body.taxes.reduce(
      (sum: number, { gross }: { gross: { amount: number } }) => sum + gross.amount,
      0,
    )
    expect(sums).toBe(body.total.amount)
    expect(body.payments).toMatchObject([
      { kind: 'card', amount: euros(5000), given: null },
      { kind: 'cash', amount: euros(body.total.amount - 5000), given: euros(5000) },
    ])
    expect(await readHeadCount(rack, clutch)).toMatchObject({ together: 14, sold: 6 })
    // One cup came free with its animal, four were sold.
    expect(await freeCups()).toBe(before + 1 - 4)
    const left = await within(rack.owner, async (tx, { workspaceId }) => ({
      jar: await tx.culture.findFirst({ where: { workspaceId, id: jar } }),
      ootheca: await tx.eggCase.findFirst({ where: { workspaceId, id: ootheca } }),
      flies: await tx.preyDeparture.findFirst({ where: { workspaceId, slug: 'hydei' } }),
    }))
    expect(left).toMatchObject({
      jar: { end: 'sold' },
      ootheca: { end: 'sold' },
      flies: { count: 200, how: 'sold' },
    })
    const again = await sell({ stock: [{ kind: 'egg_case', eggCase: ootheca }] })
    expect(again.status).toBe(409)
  })

  test.each([
    ['less than it costs', [{ kind: 'card', amount: euros(100) }], /not paid/],
    ['more than it costs by card', [{ kind: 'card', amount: euros(9000) }], /not in cash/],
  ])('refuses %s', async (_, payments, why) => {
    const stock = [{ kind: 'other', description: 'Tweezers', quantity: 1, price: euros(900) }]
    const { status, body } = await sell({ stock, payments })
    expect([status, body.errors[0].path]).toEqual([422, 'payments.0.amount'])
    expect(body.errors[0].message).toMatch(why)
  })

  test('sells no more than is there, and no empty basket', async () => {
    const clutch = await makeSiblings(3)
    const lot = { kind: 'lot', clutch, males: 0, females: 0, unsexed: 4 }
    expect((await sell({ stock: [lot] })).status).toBe(409)
    expect((await sell({ stock: [{ ...lot, unsexed: 0 }] })).status).toBe(422)
    const cups = { kind: 'container', containerKind: rack.cup, quantity: 10_000 }
    expect((await sell({ stock: [cups] })).status).toBe(409)
    expect((await sell({})).body.errors).toMatchObject([{ path: 'individuals' }])
  })
})

describe('what came back', () => {
  test('of a line is refunded in parts that add up, under gapless numbers of its own', async () => {
    const cups = {
      kind: 'container',
      containerKind: rack.cup,
      quantity: 3,
      price: euros(333),
      discount: euros(1),
    }
    const { body } = await sell({ stock: [cups] })
    const before = (await freeCups()) ?? 0
    const one = await giveBack(body.id, [{ number: 1, quantity: 1 }])
    const two = await giveBack(body.id, [{ number: 1, quantity: 2 }])
    expect([one.status, two.status]).toEqual([201, 201])
    expect(one.body.refund.amount + two.body.refund.amount).toBe(998)
    expect(two.body.returnNumber).toBe(one.body.returnNumber + 1)
    expect(await freeCups()).toBe(before + 3)
    expect((await giveBack(body.id, [{ number: 1, quantity: 1 }])).status).toBe(409)
    expect((await load(body.id)).body.lines[0].returned).toBe(3)
  })

  test('as an animal needs a place, and is here again; the rest of the receipt stays sold', async () => {
    const [first, second] = [await makeNymph(), await makeNymph()]
    const { body } = await sell({ individuals: [first, second] })
    const line = [{ number: 2, quantity: 1 }]
    expect((await giveBack(body.id, line)).body.errors).toMatchObject([{ path: 'containerKind' }])
    expect((await giveBack(body.id, line, place())).status).toBe(201)
    const here = await within(rack.owner, (tx, { workspaceId }) =>
      tx.individual.findMany({ where: { workspaceId, id: { in: [first, second] } }, orderBy: { id: 'asc' } }),
    )
    expect(here.map(({ whereabouts }) => whereabouts)).toEqual(['sold', 'single'])
    expect((await sell({ individuals: [second] })).status).toBe(201)
    const whole = { on: rack.today, reason: 'all of it', ...place() }
    const reversal = await callApi(postReversal, { token: rack.token, params: { id: body.id }, body: whole })
    expect(reversal.status).toBe(409)
  })

  test('of a lot is together again; live food is not put back, which is said', async () => {
    const clutch = await makeSiblings(9)
    const { body } = await sell({
      stock: [
        { kind: 'lot', clutch, males: 0, females: 0, unsexed: 5 },
        { kind: 'pack', line: 'hydei', quantity: 1, items: 50 },
      ],
    })
    const back = await giveBack(body.id, [
      { number: 1, quantity: 2 },
      { number: 2, quantity: 1 },
    ])
    expect(back.body.warnings).toMatchObject([{ code: 'not-restocked' }])
    expect(await readHeadCount(rack, clutch)).toMatchObject({ together: 6, sold: 3 })
  })

  test('twice at once comes back once', async () => {
    const { body } = await sell({ stock: [{ kind: 'container', containerKind: rack.cup, quantity: 1 }] })
    const answers = await Promise.all(
      Array.from({ length: 8 }, () => giveBack(body.id, [{ number: 1, quantity: 1 }])),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
  })
})

test('the last cup is sold once, although eight tills sell it at once', async () => {
  const room = await makeRack('One cup', 1)
  const cup = { kind: 'container', containerKind: room.cup, quantity: 1, price: euros(90) }
  const answers = await Promise.all(Array.from({ length: 8 }, () => sell({ stock: [cup] }, room)))
  expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
})

test('prices without their tax bear it on top', async () => {
  const room = await makeRack('Net prices')
  await within(room.owner, async (tx, { workspaceId }) => {
    await tx.till.create({ data: { workspaceId, pricesIncludeTax: false } })
  })
  const stock = [{ kind: 'other', description: 'Box', quantity: 3, price: euros(5), taxPercent: 10 }]
  const { body } = await sell({ stock }, room)
  expect(body).toMatchObject({
    total: euros(17),
    taxIncluded: false,
    taxes: [{ tax: euros(2), net: euros(15) }],
  })
})
