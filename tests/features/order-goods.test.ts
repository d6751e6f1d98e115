import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postCancellation } from '@/app/api/v1/orders/[id]/cancellation/route'
import { POST as postDeparture } from '@/app/api/v1/orders/[id]/departure/route'
import { POST as postReversal } from '@/app/api/v1/orders/[id]/payments/[payment]/reversal/route'
import { POST as postPayment } from '@/app/api/v1/orders/[id]/payments/route'
import { GET as getOrder } from '@/app/api/v1/orders/[id]/route'
import { POST as postStock } from '@/app/api/v1/orders/[id]/stock/route'
import { POST as postOrder } from '@/app/api/v1/orders/route'
import { POST as postReturn } from '@/app/api/v1/sales/[id]/returns/route'
import { GET as getSale } from '@/app/api/v1/sales/[id]/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { listContainerKinds } from '@/lib/features/container/data'
import { createSplitOrder } from '@/lib/features/order/mutations'
import { createTaxRate } from '@/lib/features/tax-rate/mutations'
import { updateTill } from '@/lib/features/till/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { makeJar, makeOotheca } from '@/tests/support/stock'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let token: string
beforeAll(async () => {
  rack = await makeRack('Parcel things')
  token = await makeToken(rack.owner, 'counter')
})

const makeFit = async (count: number) => {
  const brood = { hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-3) }
  return (await makeNymphs(rack, { count, ...brood })).map(({ id }) => id)
}
const euros = (amount: number) => ({ amount, currency: 'EUR' })
const animal = { species: 'creobroter-spp', count: 1, price: 1400 }
const postage = { kind: 'other', description: 'Postage', quantity: 1, price: 600 }
const order = (body: object) => callApi(postOrder, { token, body })
const at = (id: string) => (route: typeof postStock, body: unknown) =>
  callApi(route, { token, params: { id }, body })
const load = async (id: string) => (await callApi(getOrder, { token, params: { id } })).body
const loadSale = async (id: string) => (await callApi(getSale, { token, params: { id } })).body
const leave = (id: string, more = {}) => at(id)(postDeparture, { on: rack.today, ...more })
const pay = (id: string, body: unknown) => at(id)(postPayment, body)
const giveBack = (id: string, payment: number, body: unknown) =>
  callApi(postReversal, { token, params: { id, payment: String(payment) }, body })
const countCups = () =>
  within(
    rack.owner,
    async (tx, { workspaceId }) => (await listContainerKinds(tx, workspaceId))[0]?.stock ?? 0,
  )

describe('things of the stock in an order', () => {
  test('go with its animals, leave the stock when it leaves, and stand on its receipt', async () => {
    const [nymph] = await makeFit(1)
    const [jar, ootheca, cups] = [await makeJar(rack), await makeOotheca(rack), await countCups()]
    const { status, body } = await order({
      lines: [animal],
      individuals: [nymph],
      stock: [
        { kind: 'egg_case', eggCase: ootheca, price: 1800 },
        { kind: 'culture', culture: jar, price: 600 },
        { kind: 'container', containerKind: rack.cup, quantity: 3, price: 90 },
        { kind: 'pack', line: 'hydei', quantity: 2, items: 50, price: 350 },
        postage,
      ],
    })
    expect([status, body.errors]).toEqual([201, undefined])
    expect(body.total).toEqual(euros(1400 + 1800 + 600 + 270 + 700 + 600))
    expect(body.stock.map(({ kind }: { kind: string }) => kind)).toEqual([
      'egg_case',
      'culture',
      'container',
      'pack',
      'other',
    ])
    expect(await countCups()).toBe(cups)
    const left = await leave(body.id)
    expect(left.status).toBe(201)
    expect(await countCups()).toBe(cups - 3)
    const sale = await loadSale(left.body.sale)
    expect(sale.total).toEqual(body.total)
    expect(sale.lines.map(({ kind }: { kind: string }) => kind)).toEqual([
      'animal',
      'egg_case',
      'culture',
      'container',
      'pack',
      'other',
    ])
    const ends = await within(rack.owner, async (tx, { workspaceId }) => [
      await tx.eggCase.findFirst({ where: { workspaceId, id: ootheca }, select: { end: true } }),
      await tx.culture.findFirst({ where: { workspaceId, id: jar }, select: { end: true } }),
      await tx.preyDeparture.aggregate({ where: { workspaceId }, _sum: { count: true } }),
    ])
    expect(ends).toEqual([{ end: 'sold' }, { end: 'sold' }, { _sum: { count: 100 } }])
  })

  test('need no animal beside them, but an order needs something', async () => {
    const { body } = await order({ stock: [{ kind: 'culture', culture: await makeJar(rack), price: 600 }] })
    expect((await leave(body.id)).body.state).toBe('on-its-way')
    const nothing = await order({})
    expect([nothing.status, nothing.body.errors[0].path]).toEqual([422, 'lines'])
  })

  test('that there is once are in one order at a time, and whoever sells them at the counter is told', async () => {
    const ootheca = await makeOotheca(rack)
    const stock = [{ kind: 'egg_case', eggCase: ootheca, price: 1800 }]
    const first = await order({ stock })
    const second = await order({ stock })
    expect([second.status, second.body.detail]).toEqual([
      409,
      expect.stringMatching(new RegExp(`is on order ${first.body.number}\\.$`)),
    ])
    const sold = await callApi(postSale, { token, body: { stock: [{ kind: 'egg_case', eggCase: ootheca }] } })
    expect(sold.body.warnings).toContainEqual({
      code: 'ordered',
      message: `It is chosen for order ${first.body.number}.`,
    })
    expect([(await leave(first.body.id)).status, (await load(first.body.id)).state]).toEqual([409, 'open'])
  })

  test('go to one of eight orders that want the same jar at once', async () => {
    const stock = [{ kind: 'culture', culture: await makeJar(rack), price: 600 }]
    const answers = await Promise.all(Array.from({ length: 8 }, () => order({ stock })))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
  })

  test('join and go while it is open; an order with nothing left of it is taken back instead', async () => {
    const jar = await makeJar(rack)
    const { body } = await order({ stock: [postage] })
    const change = (asked: unknown) => at(body.id)(postStock, asked)
    const joined = await change({ add: [{ kind: 'culture', culture: jar, price: 500 }], remove: [1] })
    expect(joined.body.stock).toMatchObject([{ number: 2, kind: 'culture' }])
    expect(joined.body.total).toEqual(euros(500))
    const emptied = await change({ remove: [2] })
    expect([emptied.status, emptied.body.detail]).toEqual([
      422,
      'Then nothing would be left of it: take the order back instead.',
    ])
    expect((await change({ remove: [1] })).body.errors[0].path).toBe('remove.0')
    await at(body.id)(postCancellation, { reason: 'changed their mind' })
    expect((await order({ stock: [{ kind: 'culture', culture: jar, price: 500 }] })).status).toBe(201)
  })

  test('of which there are too few are told of at once, and refused when it leaves', async () => {
    const many = { kind: 'container', containerKind: rack.cup, quantity: 9000, price: 1 }
    const { body } = await order({ stock: [many] })
    expect(body.warnings).toMatchObject([{ code: 'more-than-left' }])
    expect((await leave(body.id)).status).toBe(409)
  })

  test('that come back are free for another order', async () => {
    const ootheca = await makeOotheca(rack)
    const stock = [{ kind: 'egg_case', eggCase: ootheca, price: 1800 }]
    const { body } = await order({ stock })
    const { sale } = (await leave(body.id)).body
    const back = { on: rack.today, reason: 'hatched empty', lines: [{ number: 1, quantity: 1 }] }
    expect((await callApi(postReturn, { token, params: { id: sale }, body: back })).status).toBe(201)
    expect((await order({ stock })).status).toBe(201)
  })
})

describe('payments of an order', () => {
  test('are taken in parts, by several ways, before and after it left, and stand on its receipt', async () => {
    const [nymph] = await makeFit(1)
    const { body } = await order({
      lines: [animal],
      individuals: [nymph],
      stock: [postage],
      payments: [{ kind: 'transfer', amount: 500, on: rack.today }],
    })
    expect(body).toMatchObject({ total: euros(2000), owed: euros(1500), paidOn: null })
    const left = await leave(body.id, { payments: [{ kind: 'cash', amount: 1000 }] })
    expect(left.body).toMatchObject({ owed: euros(500), paidOn: null })
    const sale = await loadSale(left.body.sale)
    expect(sale).toMatchObject({
      payments: [
        { kind: 'transfer', amount: euros(500), on: rack.today, given: null },
        { kind: 'cash', amount: euros(1000), given: null },
      ],
      owed: euros(500),
    })
    const rest = await pay(body.id, { kind: 'card' })
    expect(rest.body).toMatchObject({ owed: euros(0), paidOn: rack.today })
    expect((await loadSale(left.body.sale)).owed).toEqual(euros(0))
    const more = await pay(body.id, { kind: 'card', amount: 1 })
    expect([more.status, more.body.errors[0].path]).toEqual([422, 'amount'])
  })

  test('of more than is owed, or on a day before the order, are refused at their field', async () => {
    const { body } = await order({ stock: [postage] })
    expect((await pay(body.id, { kind: 'cash', amount: 601 })).body.errors).toMatchObject([
      { path: 'amount', message: 'Only €6.00 are owed.' },
    ])
    expect((await pay(body.id, { kind: 'cash', on: rack.day(-1) })).body.errors).toMatchObject([
      { path: 'on' },
    ])
    expect((await pay(body.id, { kind: 'cash', on: rack.day(1) })).body.errors).toMatchObject([
      { path: 'on' },
    ])
    expect((await load(body.id)).payments).toEqual([])
  })

  test('go back as reversals, never more than was paid, and are owed again', async () => {
    const { body } = await order({ stock: [postage], payments: [{ kind: 'card' }] })
    expect(body.paidOn).toBe(rack.today)
    const back = await giveBack(body.id, 1, { amount: 200, reason: 'paid too much' })
    expect(back.body).toMatchObject({ owed: euros(200), paidOn: null })
    expect(back.body.payments).toMatchObject([
      { number: 1, amount: euros(600), returned: euros(200), reverses: null },
      { number: 2, amount: euros(200), kind: 'card', reverses: 1 },
    ])
    const tooMuch = await giveBack(body.id, 1, { amount: 401, reason: 'again' })
    expect([tooMuch.status, tooMuch.body.errors]).toEqual([
      409,
      [{ path: 'amount', message: 'At most €4.00.' }],
    ])
    expect((await giveBack(body.id, 2, { reason: 'a reversal' })).status).toBe(404)
    const sums = await Promise.all(
      Array.from({ length: 8 }, () => giveBack(body.id, 1, { amount: 400, reason: 'at once' })),
    )
    expect(sums.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
  })

  test('cannot go back twice, whatever asks the database', async () => {
    const { body } = await order({ stock: [postage], payments: [{ kind: 'card' }] })
    const reverse = (number: number) =>
      within(rack.owner, (tx, { workspaceId, today }) =>
        tx.orderPayment.create({
          data: {
            ...{ workspaceId, orderId: body.id, number, kind: 'card', amountMinor: 400, reverses: 1 },
            on: new Date(today),
          },
        }),
      )
    await reverse(2)
    await expect(reverse(3)).rejects.toThrow(/order_payment_returned/)
  })

  test('that go back for a loss are no longer owed', async () => {
    const { body } = await order({ stock: [postage], payments: [{ kind: 'transfer' }] })
    const { sale } = (await leave(body.id)).body
    const back = await giveBack(body.id, 1, {
      amount: 250,
      kind: 'voucher',
      isWaived: true,
      reason: 'broken',
    })
    expect(back.body).toMatchObject({ total: euros(350), owed: euros(0), paidOn: rack.today })
    expect((await loadSale(sale)).refunds).toEqual([{ kind: 'voucher', on: rack.today, amount: euros(250) }])
  })

  test('of an order that was taken back can all go back', async () => {
    const { body } = await order({ stock: [postage], payments: [{ kind: 'cash' }] })
    const ended = await at(body.id)(postCancellation, { reason: 'changed their mind' })
    expect(ended.body.owed).toEqual(euros(0))
    expect((await pay(body.id, { kind: 'cash', amount: 1 })).status).toBe(422)
    expect((await giveBack(body.id, 1, { reason: 'taken back' })).status).toBe(201)
  })

  test('follow the animals when an order is split: what was paid is paid on both', async () => {
    const nymphs = await makeFit(2)
    const { body } = await order({
      lines: [{ ...animal, count: 2 }],
      individuals: nymphs,
      payments: [{ kind: 'transfer', amount: 2000 }, { kind: 'cash' }],
    })
    const made = await within(rack.owner, (tx, workspace) =>
      createSplitOrder(
        tx,
        { scope: rack.owner, workspace },
        { order: body.id, version: body.version, staying: [String(nymphs[1])] },
      ),
    )
    const [goes, stays] = [await load(body.id), await load(made.value.id)]
    for (const one of [goes, stays])
      expect(one).toMatchObject({ total: euros(1400), owed: euros(0), paidOn: rack.today })
    expect(stays.payments).toMatchObject([
      { kind: 'cash', amount: euros(800), note: `from order ${body.number}` },
      { kind: 'transfer', amount: euros(600) },
    ])
  })

  test('count the tax that comes on top of the prices, as the receipt does', async () => {
    const shop = await makeRack('On top')
    await within(shop.owner, async (tx, workspace) => {
      await createTaxRate(tx, workspace.workspaceId, { name: 'full', percent: 19, appliesTo: ['other'] })
      await updateTill(tx, workspace.workspaceId, {
        ...{ version: 0, pricesIncludeTax: false, retentionYears: 0, receiptWords: '', certifiedTill: false },
      })
    })
    const made = await callApi(postOrder, {
      token: shop.token,
      body: { stock: [postage], paidOn: shop.today },
    })
    expect(made.body).toMatchObject({ total: euros(714), owed: euros(0), paidOn: shop.today })
    const left = await callApi(postDeparture, {
      token: shop.token,
      params: { id: made.body.id },
      body: { on: shop.today },
    })
    expect(left.body).toMatchObject({ total: euros(714), owed: euros(0) })
  })
})
