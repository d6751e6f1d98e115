import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postCheck } from '@/app/api/v1/dispatch-checks/route'
import { POST as postAnimals } from '@/app/api/v1/orders/[id]/animals/route'
import { POST as postArrival } from '@/app/api/v1/orders/[id]/arrival/route'
import { POST as postCancellation } from '@/app/api/v1/orders/[id]/cancellation/route'
import { POST as postDeparture } from '@/app/api/v1/orders/[id]/departure/route'
import { GET as getOrder } from '@/app/api/v1/orders/[id]/route'
import { GET as listOrders, POST as postOrder } from '@/app/api/v1/orders/route'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { GET as getSale } from '@/app/api/v1/sales/[id]/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { recordAir, recordClosedForSending, updateDispatchRules } from '@/lib/features/dispatch/mutations'
import { loadRecipient } from '@/lib/features/order/data'
import { createSplitOrder, endOrderAddress } from '@/lib/features/order/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let counter: string
beforeAll(async () => {
  rack = await makeRack('Parcel lane')
  counter = await makeToken(rack.owner, 'counter')
  const everyDay = Array.from({ length: 7 }, () => true)
  const rules = { weekdays: everyDay, transitDays: 1, claimHours: 24, keepAddressDays: 30, area: 'DE 79' }
  await within(rack.owner, (tx, workspace) => updateDispatchRules(tx, workspace, { version: 0, ...rules }))
})

/** Nymphs early in their fourth instar: nothing keeps them here. */
const makeFit = (count: number, ago = 3) =>
  makeNymphs(rack, {
    count,
    hatchedOn: rack.day(-40),
    partedOn: rack.day(-ago),
    moults: 3,
    lastMoultOn: rack.day(-ago),
  })
const line = {
  species: 'creobroter-spp',
  takes: 'nymph',
  fromMoults: 3,
  untilMoults: 3,
  count: 1,
  price: 1400,
}
const order = (body: object = {}, headers = {}) =>
  callApi(postOrder, { token: counter, body: { lines: [line], ...body }, headers })
const withParams =
  (route: Parameters<typeof callApi>[0]) =>
  (id: string, body: unknown, token = counter) =>
    callApi(route, { token, params: { id }, body })
const choose = withParams(postAnimals)
const leave = withParams(postDeparture)
const arrive = withParams(postArrival)
const cancel = withParams(postCancellation)
const check = (body: unknown) => callApi(postCheck, { token: counter, body })
const idsOf = (nymphs: Nymph[]) => nymphs.map(({ id }) => id)

describe('an order', () => {
  test('is a description until packing day, and says on which days it can go and with whom', async () => {
    const [nymph] = await makeFit(1)
    const { status, body } = await order({ lines: [{ ...line, sex: 'any' }] })
    expect(status).toBe(201)
    expect(body).toMatchObject({ state: 'open', sale: null, lines: [{ count: 1, individuals: [] }] })
    expect(body.lines[0].words).toBe('Creobroter spp., 4th instar, either sex')
    const days = await check({ order: body.id })
    expect(days.status).toBe(201)
    expect(days.body.sentence).toMatch(/^Everything can go today, to arrive on /)
    expect(days.body.days).toHaveLength(3)
    expect(days.body.days[0]).toMatchObject({ packOn: rack.today, packing: null, isAirKnown: false })
    expect(days.body.days[0].animals).toEqual([
      { line: 1, animal: nymph?.id, chance: expect.any(Number), isChosen: false },
    ])
    await cancel(body.id, { reason: 'a test' })
  })

  test('becomes a sale with the next receipt when it leaves, and is kept even where something speaks against it', async () => {
    const [soft] = await makeFit(1, 1)
    const { body } = await order({ individuals: [soft?.id] })
    expect(body.lines[0].individuals).toEqual([{ id: soft?.id, label: soft?.label, arrived: null }])
    const left = await leave(body.id, { on: rack.today, carrier: 'overnight' })
    expect(left.status).toBe(201)
    expect(left.body).toMatchObject({ state: 'on-its-way', leftOn: rack.today })
    expect(left.body.warnings[0]).toMatchObject({ code: 'soft' })
    const sale = await callApi(getSale, { token: counter, params: { id: left.body.sale } })
    expect(sale.body).toMatchObject({ total: { amount: 1400 }, note: `Order ${body.number}` })
    expect((await leave(body.id, { on: rack.today })).status).toBe(409)
    expect((await cancel(body.id, { reason: 'too late' })).status).toBe(409)
  })

  test('does not leave while a place is empty', async () => {
    const [one] = await makeFit(1)
    const { body } = await order({ lines: [{ ...line, count: 2 }], individuals: [one?.id] })
    const left = await leave(body.id, { on: rack.today })
    expect([left.status, left.body.detail]).toEqual([
      422,
      'Line 1 has 1 of 2 animals. Choose the others, or split the order.',
    ])
  })

  test('takes only what its lines ask for, and nobody who is in another order', async () => {
    const [a, b] = await makeFit(2)
    const first = await order({ individuals: [a?.id] })
    const second = await order()
    const taken = await choose(second.body.id, { animals: [{ line: 1, individual: a?.id }] })
    expect([taken.status, taken.body.detail]).toEqual([
      409,
      expect.stringMatching(new RegExp(`is chosen for order ${first.body.number}\\.$`)),
    ])
    const animals = [a, b].map((nymph) => ({ line: 1, individual: nymph?.id }))
    expect((await choose(first.body.id, { animals })).status).toBe(422)
    expect((await choose(first.body.id, { animals: [{ line: 3, individual: b?.id }] })).status).toBe(422)
    const other = await makeNymphs(rack, {
      species: 'phyllocrania-paradoxa',
      count: 1,
      hatchedOn: rack.day(-9),
    })
    const wrong = await choose(second.body.id, { animals: [{ line: 1, individual: other[0]?.id }] })
    expect([wrong.status, wrong.body.detail]).toEqual([
      422,
      expect.stringMatching(/not what line 1 asks for/),
    ])
    expect((await choose(first.body.id, { animals: [] })).status).toBe(201)
    expect((await choose(second.body.id, { animals: [{ line: 1, individual: a?.id }] })).status).toBe(201)
  })

  test('gives an animal to one of eight who choose it at once', async () => {
    const [nymph] = await makeFit(1)
    const orders = []
    for (let index = 0; index < 8; index += 1) orders.push((await order()).body.id)
    const animals = [{ line: 1, individual: nymph?.id }]
    const answers = await Promise.all(orders.map((id) => choose(id, { animals })))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
    for (const id of orders) await cancel(id, { reason: 'a race' })
  })

  test('that was taken back lets its animals go and forgets where it was to go', async () => {
    const [nymph] = await makeFit(1)
    const recipient = { name: 'A. Buyer', address: 'Mill Lane 3', phone: '' }
    const { body } = await order({ individuals: [nymph?.id], recipient })
    expect(JSON.stringify(body)).not.toContain('Mill Lane')
    const kept = () => within(rack.owner, (tx, { workspaceId }) => loadRecipient(tx, workspaceId, body.id))
    expect(await kept()).toEqual(recipient)
    const back = await cancel(body.id, { reason: 'changed their mind' })
    expect(back.body).toMatchObject({ state: 'cancelled', lines: [{ individuals: [] }] })
    expect(await kept()).toEqual({ name: '', address: '', phone: '' })
    expect((await order({ individuals: [nymph?.id] })).status).toBe(201)
  })

  test('splits: those who cannot go have an order of their own, for the same place', async () => {
    const nymphs = await makeFit(2)
    const recipient = { name: 'B. Buyer', address: 'Mill Lane 4', phone: '1' }
    const { body } = await order({ lines: [{ ...line, count: 3 }], individuals: idsOf(nymphs), recipient })
    const made = await within(rack.owner, (tx, workspace) =>
      createSplitOrder(
        tx,
        { scope: rack.owner, workspace },
        { order: body.id, version: 1, staying: [nymphs[1]!.id] },
      ),
    )
    const read = (id: string) => callApi(getOrder, { token: counter, params: { id } })
    const [goes, stays] = [await read(body.id), await read(made.value.id)]
    expect(goes.body.lines).toMatchObject([{ count: 1, individuals: [{ id: nymphs[0]?.id }] }])
    expect(stays.body.lines).toMatchObject([{ count: 2, individuals: [{ id: nymphs[1]?.id }] }])
    expect(stays.body.note).toBe(`The rest of order ${body.number}.`)
    const kept = await within(rack.owner, (tx, { workspaceId }) =>
      loadRecipient(tx, workspaceId, made.value.id),
    )
    expect(kept).toEqual(recipient)
    expect((await leave(body.id, { on: rack.today })).status).toBe(201)
  })

  test('says how it arrived, animal by animal, once, and the loss stays open', async () => {
    const nymphs = await makeFit(2)
    const { body } = await order({ lines: [{ ...line, count: 2 }], individuals: idsOf(nymphs) })
    expect((await arrive(body.id, { on: rack.today })).status).toBe(422)
    await leave(body.id, { on: rack.day(-1) })
    await leave(body.id, { on: rack.today })
    const stranger = { on: rack.today, animals: [{ individual: rack.zone, as: 'dead' }] }
    expect((await arrive(body.id, stranger)).status).toBe(422)
    const came = await arrive(body.id, {
      on: rack.today,
      at: '00:10',
      animals: [{ individual: nymphs[0]?.id, as: 'dead' }],
      photographs: 2,
    })
    expect(came.status).toBe(201)
    expect(came.body).toMatchObject({ state: 'to-settle', arrivedOn: rack.today })
    expect(came.body.lines[0].individuals.map(({ arrived }: { arrived: string }) => arrived)).toEqual([
      'dead',
      'alive',
    ])
    expect((await arrive(body.id, { on: rack.today })).status).toBe(409)
  })

  test('whose sale was taken back lets its animals go to another order', async () => {
    const [nymph] = await makeFit(1)
    const { body } = await order({ individuals: [nymph?.id] })
    const left = await leave(body.id, { on: rack.today })
    const back = { on: rack.today, reason: 'came back', containerKind: rack.cup, zone: rack.zone }
    const reversed = await callApi(postReversal, {
      token: counter,
      params: { id: left.body.sale },
      body: back,
    })
    expect(reversed.status).toBe(201)
    expect((await order({ individuals: [nymph?.id] })).status).toBe(201)
  })

  test('is warned of at the counter: whoever sells its animal all the same is told', async () => {
    const [nymph] = await makeFit(1)
    const { body } = await order({ individuals: [nymph?.id] })
    const sold = await callApi(postSale, { token: counter, body: { individuals: [nymph?.id] } })
    expect(sold.status).toBe(201)
    const message = `It is chosen for order ${body.number}.`
    expect(sold.body.warnings).toContainEqual({ code: 'ordered', message })
    const held = await check({ order: body.id })
    expect(held.body.heldUp[0]).toMatchObject({ code: 'gone', animal: nymph?.id })
  })

  test('leaves without a name where its buyer asked to be forgotten meanwhile', async () => {
    const [nymph] = await makeFit(1)
    const buyer = await within(rack.owner, (tx, { workspaceId }) =>
      tx.buyer.create({ data: { workspaceId, changedFields: [], person: { create: { name: 'D. Buyer' } } } }),
    )
    const { body } = await order({ individuals: [nymph?.id], buyer: buyer.id })
    await within(rack.owner, (tx, { workspaceId, today }) =>
      tx.buyer.updateMany({
        where: { workspaceId, id: buyer.id },
        data: { erasureAskedOn: new Date(today) },
      }),
    )
    const left = await leave(body.id, { on: rack.today })
    expect(left.status).toBe(201)
    const sale = await callApi(getSale, { token: counter, params: { id: left.body.sale } })
    expect(sale.body.buyer).toBeNull()
  })

  test('forgets the address of one that has left, and keeps that of one that has not', async () => {
    const [nymph] = await makeFit(1)
    const recipient = { name: 'C. Buyer', address: 'Mill Lane 5', phone: '' }
    const { body } = await order({ individuals: [nymph?.id], recipient })
    const forget = () =>
      within(rack.owner, (tx, { workspaceId }) => endOrderAddress(tx, workspaceId, body.id))
    const kept = () => within(rack.owner, (tx, { workspaceId }) => loadRecipient(tx, workspaceId, body.id))
    await forget()
    expect((await kept()).address).toBe('Mill Lane 5')
    await leave(body.id, { on: rack.today })
    await forget()
    expect((await kept()).address).toBe('')
  })

  test('is seen and taken by the counter and the owner alone', async () => {
    for (const role of ['keeper', 'viewer'] as const) {
      const token = await makeToken(rack.owner, role)
      expect((await callApi(listOrders, { token })).status).toBe(403)
      expect((await callApi(postOrder, { token, body: { lines: [line] } })).status).toBe(403)
    }
    const { body } = await callApi(listOrders, { token: counter, query: '?state=open&limit=1' })
    expect(body.items).toHaveLength(1)
    expect(body.nextCursor).toEqual(expect.any(String))
  })
})

describe('the days of an order', () => {
  test('keep to closed days and to the air, typed for the area of each end', async () => {
    const [nymph] = await makeFit(1)
    const { body } = await order({ individuals: [nymph?.id], country: 'DE', area: 'de 10' })
    const close = (on: string, isClosed: boolean) =>
      within(rack.owner, (tx, workspace) =>
        recordClosedForSending(tx, workspace, { country: 'DE', on, isClosed, note: 'holiday' }),
      )
    await close(rack.day(1), true)
    const held = await check({ order: body.id })
    expect(held.body.days[0].packOn).toBe(rack.day(2))
    const closed = expect.objectContaining({
      by: 'closed-day',
      stretches: [{ from: rack.today, until: rack.day(1) }],
    })
    expect(held.body.heldUp).toContainEqual(closed)
    await close(rack.day(1), false)
    const air = (area: string, on: string, lowC: number) =>
      within(rack.owner, (tx, workspace) => recordAir(tx, workspace, { area, on, lowC, highC: 10 }))
    await air('DE 79', rack.today, 9)
    await air('DE 10', rack.day(1), 6)
    const cold = await check({ order: body.id })
    expect(cold.body.days[0]).toMatchObject({ packOn: rack.today, packing: 'heat-pack', isAirKnown: true })
    await air('DE 10', rack.day(1), -5)
    const frost = await check({ order: body.id })
    expect(frost.body.heldUp[0]).toMatchObject({ by: 'animal', animal: nymph?.id, code: 'temperature' })
    expect(frost.body.waysOut[0]).toMatch(/^Wait until /)
  })

  test('can be asked for without any record', async () => {
    const posted = (lastMoultOn: string, changes = {}) =>
      check({
        case: {
          animals: [{ label: 'One', species: 'hymenopus-coronatus', moults: 4, lastMoultOn, sex: 'female' }],
          weekdays: [1, 2, 3, 4, 5, 6, 7],
          ...changes,
        },
        days: 10,
      })
    const fit = await posted(rack.day(-4))
    expect(fit.body.days[0]).toMatchObject({
      packOn: rack.today,
      animals: [{ animal: 'One', isChosen: true }],
    })
    const soft = await posted(rack.today)
    expect(soft.body.days[0].packOn).toBe(rack.day(2))
    expect(soft.body.heldUp[0]).toMatchObject({ by: 'animal', animal: 'One', code: 'soft' })
    const wrong = await check({
      case: { animals: [{ label: 'X', species: 'no-such', moults: 1, lastMoultOn: rack.today }] },
    })
    expect([wrong.status, wrong.body.errors[0].path]).toEqual([422, 'case.animals.0.species'])
    expect((await check({})).status).toBe(422)
  })
})
