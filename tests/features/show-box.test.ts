import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { GET as getSale } from '@/app/api/v1/sales/[id]/route'
import { GET as listSales, POST as postSale } from '@/app/api/v1/sales/route'
import { formatCode } from '@/lib/domain/label/code'
import { requireShowBox, type ShowBoxRow } from '@/lib/features/show-box/data'
import {
  createBoxPart,
  createShowBox,
  endBoxedAnimal,
  recordBoxedAnimals,
  recordBoxHome,
} from '@/lib/features/show-box/mutations'
import { loadStallPart } from '@/lib/features/stall/loaders'
import { recordPartTaken, recordStallReceipts } from '@/lib/features/stall/mutations'
import type { StallReceiptSent } from '@/lib/features/stall/schema'
import type { QueueAnswer } from '@/lib/platform/device-queue'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let fit: Nymph[]
let due: Nymph[]
beforeAll(async () => {
  rack = await makeRack('Hall four')
  fit = await makeNymphs(rack, {
    ...{ count: 30, hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3 },
    lastMoultOn: rack.day(-3),
  })
  // Their next moult is about now: none of them travels.
  due = await makeNymphs(rack, {
    ...{ count: 5, hatchedOn: rack.day(-40), partedOn: rack.day(-17), moults: 3 },
    lastMoultOn: rack.day(-17),
  })
})

const actor = <T>(work: (tx: Parameters<Parameters<typeof within>[1]>[0], act: Acting) => Promise<T>) =>
  within(rack.owner, (tx, workspace) => work(tx, { scope: rack.owner, workspace }))
type Acting = { scope: Rack['owner']; workspace: Parameters<Parameters<typeof within>[1]>[1] }

const pack = async (count: number, devices = 1): Promise<ShowBoxRow> => {
  const days = { packOn: rack.day(0), returnOn: rack.day(1) }
  const { value } = await actor((tx, act) =>
    createShowBox(tx, act, {
      name: 'Autumn fair',
      ...days,
      count,
      devices,
      species: '',
      languages: ['en', 'de'],
    }),
  )
  return look(value.id)
}
const look = (id: string) => actor((tx, { workspace }) => requireShowBox(tx, workspace.workspaceId, id))
const take = (box: ShowBoxRow, part: number, device: string) =>
  actor(async (tx, act) => {
    await recordPartTaken(tx, act, { box: box.id, part, device })
    return loadStallPart(tx, act, { box: box.id, part, person: 'Owner' })
  })

type Stall = { box: ShowBoxRow; part: number; series: string; device: string }
const openStall = async (box: ShowBoxRow, part = 1): Promise<Stall> => {
  const device = randomUUID()
  const { series } = (await take(box, part, device)).part
  return { box, part, series, device }
}
const receipt = ({ box, ...stall }: Stall, number: number, more: Partial<StallReceiptSent> = {}) => ({
  ...{ id: randomUUID(), workspaceId: rack.owner.workspaceId, personId: String(rack.owner.personId) },
  ...{ box: box.id, ...stall, number, on: rack.day(0), writtenAt: new Date().toISOString() },
  ...{ currency: 'EUR', taxIncluded: true, animals: [], v: 1 as const, ...more },
})
const animal = (individual: string) => ({
  ...{ individual, description: 'Creobroter, 4th instar', unitPriceMinor: 1800, taxBasisPoints: 1900 },
})
const send = (...receipts: unknown[]) =>
  recordStallReceipts({ personId: String(rack.owner.personId), scopes: [rack.owner] }, receipts)
const statuses = (answers: QueueAnswer[]) =>
  answers.map((answer) => (answer.status === 'refused' ? answer.code : answer.status))
const inside = ({ animals }: ShowBoxRow, part?: number) =>
  animals
    .filter((one) => one.end === null && (part === undefined || one.part === part))
    .map((one) => one.individualId)
const labelOf = (id: string) => formatCode([...fit, ...due].find((one) => one.id === id)?.label ?? '')
const saleOf = async (series: string, number: number) => {
  const { body } = await callApi(listSales, { token: rack.token, query: 'limit=200' })
  return body.items.find(
    (one: { series: string; receiptNumber: number }) => one.series === series && one.receiptNumber === number,
  )
}

describe('packing a box', () => {
  test('takes those that will not moult before they are back, and each into one box only', async () => {
    const box = await pack(6, 2)
    const chosen = inside(box)
    expect(chosen).toHaveLength(6)
    expect(chosen.filter((id) => due.some((one) => one.id === id))).toEqual([])
    expect(inside(box, 1)).toHaveLength(3)
    const other = await pack(6)
    expect(inside(other).filter((id) => chosen.includes(id))).toEqual([])
    await settle(box, chosen)
    await settle(other, inside(other))
  })

  test('tells when there are fewer, and puts in by hand whoever is named, with what speaks against it', async () => {
    const box = await pack(2)
    const late = due[0]
    const { value, warnings } = await actor((tx, act) =>
      recordBoxedAnimals(tx, act, { box: box.id, version: box.version, labels: labelOf(String(late?.id)) }),
    )
    expect(warnings[0]?.message).toMatch(/will probably moult|may moult/)
    const out = { box: box.id, version: value.version, individual: String(late?.id) }
    await actor((tx, { workspace }) => endBoxedAnimal(tx, workspace, out))
    expect(inside(await look(box.id))).toHaveLength(2)
    await expect(actor((tx, { workspace }) => endBoxedAnimal(tx, workspace, out))).rejects.toMatchObject({
      code: 'stale',
    })
    const all = await actor((tx, act) =>
      createShowBox(tx, act, {
        ...{ name: 'All', packOn: rack.day(0), returnOn: rack.day(1), count: 60, devices: 1 },
        ...{ species: '', languages: ['en'] },
      }),
    )
    expect(all.warnings[0]?.message).toMatch(/^Only \d+ of 60 may travel/)
    const rest = await look(all.value.id)
    await settle(rest, inside(rest))
    await settle(await look(box.id), inside(box))
  })
})

const settle = async ({ id }: ShowBoxRow, ids: string[]) => {
  const { version } = await look(id)
  const labels = ids.map(labelOf).join('\n')
  return actor((tx, { workspace }) => recordBoxHome(tx, workspace, { box: id, version, labels, counts: [] }))
}

describe('selling without a connection', () => {
  test('one device has a part; receipts arrive in their order, once, in a series without a gap', async () => {
    const box = await pack(5)
    const stall = await openStall(box)
    await expect(take(box, 1, randomUUID())).rejects.toMatchObject({ code: 'already-gone' })
    expect((await take(box, 1, stall.device)).part.lastNumber).toBe(0)
    const [one, two, three] = inside(box)
    const first = receipt(stall, 1, { animals: [animal(String(one))] })
    const second = receipt(stall, 2, { animals: [animal(String(two))] })
    const third = receipt(stall, 3, { animals: [animal(String(three))] })
    // The second alone has to wait for the first, and holds back the third.
    expect(statuses(await send(second, third))).toEqual(['stale', 'held-back'])
    expect(statuses(await send(first, second, third))).toEqual(['applied', 'applied', 'applied'])
    expect(statuses(await send(first, second, third))).toEqual(
      Array.from({ length: 3 }, () => 'already-applied'),
    )
    expect((await take(box, 1, stall.device)).part.lastNumber).toBe(3)
    const sale = await saleOf(stall.series, 2)
    expect(sale).toMatchObject({ total: { amount: 1800 }, taxIncluded: true })
    expect(sale.lines[0]).toMatchObject({ kind: 'animal', individual: two })
    expect(
      statuses(await send({ ...receipt(stall, 4), animals: [animal(String(one))], device: randomUUID() })),
    ).toEqual(['forbidden'])
    await settle(box, inside(await look(box.id)))
  })

  test('the counter’s own series goes on beside it without a gap', async () => {
    const sell = async (id: string) =>
      (await callApi(postSale, { token: rack.token, body: { individuals: [id] } })).body
    const box = await pack(3)
    const free = fit.filter(({ id }) => !inside(box).includes(id))
    const before = await sell(await pickSingle(free))
    const stall = await openStall(box)
    await send(receipt(stall, 1, { animals: [animal(String(inside(box)[0]))] }))
    const after = await sell(await pickSingle(free))
    expect([before.series, after.series]).toEqual(['', ''])
    expect(after.receiptNumber).toBe(before.receiptNumber + 1)
    await settle(box, inside(await look(box.id)))
  })

  test('an animal that was sold elsewhere meanwhile stays sold once; the receipt stands, says so, and comes back', async () => {
    const box = await pack(2)
    const stall = await openStall(box)
    const [one, two] = inside(box)
    const there = await callApi(postSale, { token: rack.token, body: { individuals: [one] } })
    expect(there.status).toBe(201)
    const [answer] = await send(receipt(stall, 1, { animals: [animal(String(one)), animal(String(two))] }))
    expect(answer).toMatchObject({ status: 'applied' })
    expect(answer && 'label' in answer ? answer.label : '').toMatch(/was sold.*on receipt \d+ as well/)
    const sale = await saleOf(stall.series, 1)
    expect(sale.lines.map(({ kind }: { kind: string }) => kind).sort()).toEqual(['animal', 'other'])
    expect(sale.total.amount).toBe(3600)
    const line = sale.lines.find(({ kind }: { kind: string }) => kind === 'other')
    expect(line.warnings[0]).toMatchObject({ code: 'already-gone' })
    const body = { reason: 'sold twice', on: rack.day(0), containerKind: rack.cup, zone: rack.zone }
    const back = await callApi(postReversal, { token: rack.token, params: { id: sale.id }, body })
    expect(back.status).toBe(201)
    const stands = await callApi(getSale, { token: rack.token, params: { id: there.body.id } })
    expect(stands.body.reversal).toBeNull()
    await settle(box, [])
  })

  test('in a name, where somebody asks for it: the buyer is made here and nothing of them is in what is kept of the call', async () => {
    const box = await pack(1)
    const stall = await openStall(box)
    const buyer = { name: 'Hanna Hall', address: 'Gate 4', keepConsent: false }
    const sent = receipt(stall, 1, { animals: [animal(String(inside(box)[0]))], buyer })
    expect(statuses(await send(sent))).toEqual(['applied'])
    expect((await saleOf(stall.series, 1)).buyer).toEqual(expect.any(String))
    const kept = await actor((tx, { workspace }) =>
      tx.operation.findMany({ where: { workspaceId: workspace.workspaceId, id: `stall:${sent.id}` } }),
    )
    expect(JSON.stringify(kept)).not.toContain('Hanna')
    await settle(box, [])
  })

  test('a lost device: the rest of its part goes into a new one, and what it sends later still counts', async () => {
    const box = await pack(3)
    const lost = await openStall(box)
    const [one, two, three] = inside(box)
    const { number } = await actor((tx, { workspace }) =>
      createBoxPart(tx, workspace, { box: box.id, version: box.version, from: 1 }),
    )
    const other = await openStall(await look(box.id), number)
    expect(other.series).not.toBe(lost.series)
    expect(statuses(await send(receipt(other, 1, { animals: [animal(String(one))] })))).toEqual(['applied'])
    const late = await send(receipt(lost, 1, { animals: [animal(String(one)), animal(String(two))] }))
    expect(statuses(late)).toEqual(['applied'])
    const { home, sold, missing } = await settle(box, [String(three)])
    expect([home, sold, missing]).toEqual([1, 2, []])
  })

  test('whoever is somebody else, or may not sell, is not judged', async () => {
    const box = await pack(1)
    const stall = await openStall(box)
    const [answer] = await send({
      ...receipt(stall, 1),
      personId: randomUUID(),
      animals: [animal(randomUUID())],
    })
    expect(answer).toMatchObject({ status: 'refused', present: { reason: 'other-person' } })
    const counted = {
      personId: String(rack.owner.personId),
      scopes: [{ ...rack.owner, role: 'viewer' as const }],
    }
    const [lower] = await recordStallReceipts(counted, [
      receipt(stall, 1, { animals: [animal(String(inside(box)[0]))] }),
    ])
    expect(lower).toMatchObject({ status: 'refused', present: { reason: 'not-allowed' } })
    await settle(box, inside(box))
  })
})

/** One that is still here and in no box. */
async function pickSingle(among: readonly Nymph[]): Promise<string> {
  const rows = await actor((tx, { workspace }) =>
    tx.individual.findMany({
      where: {
        workspaceId: workspace.workspaceId,
        id: { in: among.map(({ id }) => id) },
        whereabouts: 'single',
      },
      select: { id: true },
      take: 1,
    }),
  )
  return String(rows[0]?.id)
}

describe('coming home', () => {
  test('one scan settles it: home, sold, missing and what does not belong', async () => {
    const box = await pack(4)
    const stall = await openStall(box)
    const [sold, home, missing, also] = inside(box)
    await send(receipt(stall, 1, { animals: [animal(String(sold))] }))
    const { version } = await look(box.id)
    const labels = [sold, home, also, due[1]?.id].map((id) => labelOf(String(id))).join(', ')
    const said = await actor((tx, { workspace }) =>
      recordBoxHome(tx, workspace, { box: box.id, version, labels, counts: [] }),
    )
    expect(said).toMatchObject({ home: 2, sold: 1, missing: [labelOf(String(missing))] })
    expect(said.puzzles.map(({ why }) => why)).toEqual([
      expect.stringContaining(`on receipt ${stall.series}-1`),
      'It was not in this box.',
    ])
    // It turns up behind the table: those who were home stay home.
    expect(await settle(box, [String(missing)])).toMatchObject({ home: 3, sold: 1, missing: [] })
    expect((await look(box.id)).settledOn).toBe(rack.day(0))
  })
})
