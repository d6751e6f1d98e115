import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { GET as listSales, POST as postSale } from '@/app/api/v1/sales/route'
import { endBoxItem, recordBoxItem } from '@/lib/features/box-item/mutations'
import { listContainerKinds } from '@/lib/features/container/data'
import type { OrderedStock } from '@/lib/features/order-stock/schema'
import { requireShowBox, type ShowBoxRow } from '@/lib/features/show-box/data'
import { createBoxPart, createShowBox, recordBoxHome } from '@/lib/features/show-box/mutations'
import { loadStallPart } from '@/lib/features/stall/loaders'
import { recordPartTaken, recordStallReceipts } from '@/lib/features/stall/mutations'
import type { StallReceiptSent } from '@/lib/features/stall/schema'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { makeJar, makeOotheca } from '@/tests/support/stock'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Hall six')
  const brood = { hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-3) }
  await makeNymphs(rack, { count: 30, ...brood })
})

type Tx = Parameters<Parameters<typeof within>[1]>[0]
type Acting = { scope: Rack['owner']; workspace: Parameters<Parameters<typeof within>[1]>[1] }
const actor = <T>(work: (tx: Tx, act: Acting) => Promise<T>) =>
  within(rack.owner, (tx, workspace) => work(tx, { scope: rack.owner, workspace }))

const look = (id: string) => actor((tx, { workspace }) => requireShowBox(tx, workspace.workspaceId, id))
const pack = async (): Promise<ShowBoxRow> => {
  const { value } = await actor((tx, act) =>
    createShowBox(tx, act, {
      ...{ name: 'Spring fair', packOn: rack.day(0), returnOn: rack.day(1), count: 1, devices: 1 },
      ...{ species: '', languages: ['en'] },
    }),
  )
  return look(value.id)
}
const putIn = async ({ id }: ShowBoxRow, line: OrderedStock, part = 1) => {
  const { version } = await look(id)
  return actor((tx, { workspace }) => recordBoxItem(tx, workspace, { box: id, version, part, line }))
}
const cups = (quantity: number): OrderedStock => ({
  ...{ kind: 'container', containerKind: rack.cup, quantity, price: 90 },
})
const countCups = () =>
  within(
    rack.owner,
    async (tx, { workspaceId }) => (await listContainerKinds(tx, workspaceId))[0]?.stock ?? 0,
  )
const freeCups = () =>
  within(rack.owner, async (tx, { workspaceId }) => (await listContainerKinds(tx, workspaceId))[0]?.free ?? 0)

const openStall = async ({ id: box }: ShowBoxRow, part = 1) => {
  const device = randomUUID()
  const opened = await actor(async (tx, act) => {
    await recordPartTaken(tx, act, { box, part, device })
    return loadStallPart(tx, act, { box, part, person: 'Owner' })
  })
  const receipt = (number: number, more: Partial<StallReceiptSent>) => ({
    ...{ id: randomUUID(), workspaceId: rack.owner.workspaceId, personId: String(rack.owner.personId) },
    ...{ box, part, series: opened.part.series, device, number, on: rack.day(0) },
    ...{ writtenAt: new Date().toISOString(), currency: 'EUR', taxIncluded: true, animals: [] },
    ...{ v: 1 as const, ...more },
  })
  return { opened, receipt }
}
const send = async (...receipts: unknown[]) => {
  const answers = await recordStallReceipts(
    { personId: String(rack.owner.personId), scopes: [rack.owner] },
    receipts,
  )
  return answers.map((answer) => (answer.status === 'refused' ? answer.code : answer.status))
}
const good = (item: number, quantity: number, description = 'Cup') => ({
  ...{ item, description, quantity, unitPriceMinor: 90, taxBasisPoints: 1900 },
})
const saleOf = async (series: string, number: number) => {
  const { body } = await callApi(listSales, { token: rack.token, query: 'limit=200' })
  return body.items.find(
    (one: { series: string; receiptNumber: number }) => one.series === series && one.receiptNumber === number,
  )
}
const settle = async (id: string, counts: { item: number; home: number }[]) => {
  const { version } = await look(id)
  return actor((tx, { workspace }) => recordBoxHome(tx, workspace, { box: id, version, labels: '', counts }))
}

describe('things of the stock in a show box', () => {
  test('stay in the stock until a receipt arrives, leave it with it, and are counted at home', async () => {
    const box = await pack()
    const [ootheca, jar] = [await makeOotheca(rack), await makeJar(rack)]
    await putIn(box, cups(10))
    await putIn(box, { kind: 'egg_case', eggCase: ootheca, price: 1800 })
    await putIn(box, { kind: 'culture', culture: jar, price: 600 })
    await putIn(box, { kind: 'pack', line: 'hydei', quantity: 5, items: 50, price: 350 })
    const before = await countCups()
    const { opened, receipt } = await openStall(box)
    expect(opened.items?.map(({ number, packed, sold }) => [number, packed, sold])).toEqual([
      [1, 10, 0],
      [2, 1, 0],
      [3, 1, 0],
      [4, 5, 0],
    ])
    expect(await countCups()).toBe(before)
    const goods = [good(1, 4), good(2, 1), good(3, 1), good(4, 2)]
    expect(await send(receipt(1, { goods }))).toEqual(['applied'])
    expect(await countCups()).toBe(before - 4)
    const sale = await saleOf(opened.part.series, 1)
    expect(sale.lines.map(({ kind }: { kind: string }) => kind)).toEqual([
      'container',
      'egg_case',
      'culture',
      'pack',
    ])
    const ends = await actor(async (tx, { workspace: { workspaceId } }) => [
      await tx.eggCase.findFirst({ where: { workspaceId, id: ootheca }, select: { end: true } }),
      await tx.culture.findFirst({ where: { workspaceId, id: jar }, select: { end: true } }),
      await tx.preyDeparture.aggregate({ where: { workspaceId }, _sum: { count: true } }),
    ])
    expect(ends).toEqual([{ end: 'sold' }, { end: 'sold' }, { _sum: { count: 100 } }])
    const said = await settle(box.id, [
      { item: 1, home: 5 },
      { item: 4, home: 4 },
    ])
    expect(said.things).toEqual({
      missing: [{ description: expect.any(String), count: 1 }],
      over: [{ description: expect.stringContaining('50 a pack'), count: 1 }],
    })
    // The last cup was under the table.
    expect((await settle(box.id, [{ item: 1, home: 6 }])).things.missing).toEqual([])
  })

  test('that were sold beyond what the records have stay on the receipt in words, and are named', async () => {
    const box = await pack()
    await putIn(box, cups(10))
    const { opened, receipt } = await openStall(box)
    const free = await freeCups()
    const stock = [{ kind: 'container', containerKind: rack.cup, quantity: free - 3 }]
    expect((await callApi(postSale, { token: rack.token, body: { stock } })).status).toBe(201)
    const before = await countCups()
    const [answer] = await recordStallReceipts(
      { personId: String(rack.owner.personId), scopes: [rack.owner] },
      [receipt(1, { goods: [{ ...good(1, 5), discountMinor: 50 }] })],
    )
    expect(answer).toMatchObject({ status: 'applied', label: expect.stringMatching(/^2 of “.*” were sold/) })
    expect(await countCups()).toBe(before - 3)
    const sale = await saleOf(opened.part.series, 1)
    expect(sale.total.amount).toBe(5 * 90 - 50)
    expect(sale.lines).toMatchObject([
      { kind: 'container', quantity: 3 },
      { kind: 'other', description: 'Cup', quantity: 2, warnings: [{ code: 'more-than-left' }] },
    ])
    expect((await look(box.id)).items[0]).toMatchObject({ packed: 10, sold: 5 })
    await actor((tx, { workspace: { workspaceId } }) =>
      tx.containerKind.updateMany({
        where: { workspaceId, id: rack.cup },
        data: { stock: { increment: 200 } },
      }),
    )
  })

  test('that are gone, or that nobody knows of, are refused no receipt', async () => {
    const box = await pack()
    const ootheca = await makeOotheca(rack)
    await putIn(box, { kind: 'egg_case', eggCase: ootheca, price: 1800 })
    const { opened, receipt } = await openStall(box)
    await callApi(postSale, { token: rack.token, body: { stock: [{ kind: 'egg_case', eggCase: ootheca }] } })
    // A day before the egg case was laid, and a thing that was never packed: the paper is out all the same.
    const odd = { on: rack.day(-200), goods: [good(1, 1, 'Egg case'), good(99, 2, 'Sticker')] }
    expect(await send(receipt(1, odd))).toEqual(['applied'])
    const sale = await saleOf(opened.part.series, 1)
    expect(
      sale.lines.map(({ kind, description }: { kind: string; description: string }) => [kind, description]),
    ).toEqual([
      ['other', 'Egg case'],
      ['other', 'Sticker'],
    ])
  })

  test('more than was packed leave the stock as well, and are over', async () => {
    const box = await pack()
    await putIn(box, cups(2))
    const { receipt } = await openStall(box)
    const before = await countCups()
    await send(receipt(1, { goods: [good(1, 3)] }))
    expect(await countCups()).toBe(before - 3)
    expect((await settle(box.id, [])).things.over).toMatchObject([{ count: 1 }])
  })

  test('of a lost device go into the new part, and what it sends later still counts', async () => {
    const box = await pack()
    await putIn(box, cups(6))
    const lost = await openStall(box)
    await send(lost.receipt(1, { goods: [good(1, 2)] }))
    const { version } = await look(box.id)
    const { number } = await actor((tx, { workspace }) =>
      createBoxPart(tx, workspace, { box: box.id, version, from: 1 }),
    )
    const other = await openStall(box, number)
    expect(other.opened.items).toMatchObject([{ number: 2, packed: 4, sold: 0 }])
    await send(other.receipt(1, { goods: [good(2, 3)] }), lost.receipt(2, { goods: [good(1, 1)] }))
    expect((await look(box.id)).items).toMatchObject([
      { number: 1, packed: 2, sold: 3 },
      { number: 2, packed: 4, sold: 3 },
    ])
  })

  test('stay at home when they are taken out again', async () => {
    const box = await pack()
    await putIn(box, cups(2))
    const { version } = await look(box.id)
    await actor((tx, { workspace }) => endBoxItem(tx, workspace, { box: box.id, version, number: 1 }))
    expect((await openStall(box)).opened.items).toEqual([])
    const again = { box: box.id, version: version + 1, number: 1 }
    await expect(actor((tx, { workspace }) => endBoxItem(tx, workspace, again))).rejects.toMatchObject({
      code: 'not-found',
    })
  })

  test('are counted once under one receipt, sent twice', async () => {
    const box = await pack()
    await putIn(box, cups(5))
    const { receipt } = await openStall(box)
    const before = await countCups()
    const sent = receipt(1, { goods: [good(1, 2)] })
    expect(await send(sent, sent)).toEqual(['applied', 'already-applied'])
    expect([await countCups(), (await look(box.id)).items[0]?.sold]).toEqual([before - 2, 2])
  })
})
