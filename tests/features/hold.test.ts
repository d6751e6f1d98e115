import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postBuyer } from '@/app/api/v1/buyers/route'
import { GET as getForSale } from '@/app/api/v1/for-sale/route'
import { GET as getRegister } from '@/app/api/v1/registers/animals/route'
import { GET as getTaxes } from '@/app/api/v1/registers/taxes/route'
import { POST as postRelease } from '@/app/api/v1/reservations/[id]/release/route'
import { GET as listHolds, POST as postHold } from '@/app/api/v1/reservations/route'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { listPriceLists } from '@/lib/features/price-list/data'
import { createPriceList, updateAnimalPrice } from '@/lib/features/price-list/mutations'
import { endExpiredHold } from '@/lib/features/reservation/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { requireDatabase } from '@/tests/support/database'
import { makeClutch, makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Holds')
})

const makeSaleable = (count: number, room = rack) =>
  makeNymphs(room, {
    ...{ count, hatchedOn: room.day(-40), partedOn: room.day(-3), moults: 3 },
    lastMoultOn: room.day(-4),
  })
const addBuyer = async (name: string, more = {}, room = rack) =>
  String((await callApi(postBuyer, { token: room.token, body: { name, ...more } })).body.id)
const hold = (body: unknown, token = rack.token) => callApi(postHold, { token, body })
const sell = (body: unknown, room = rack) => callApi(postSale, { token: room.token, body })
const listHeld = async () => (await callApi(listHolds, { token: rack.token })).body.items

describe('a hold', () => {
  test('keeps an animal for a buyer, is said at the counter without a name, and ends when they buy it', async () => {
    const [animal] = await makeSaleable(1)
    const ada = await addBuyer('Ada Quillfeather')
    const made = await hold({ buyer: ada, individuals: [animal?.id], until: rack.day(5) })
    expect(made).toMatchObject({ status: 201, body: { items: [{ buyer: ada, until: rack.day(5) }] } })
    expect((await hold({ buyer: ada, individuals: [animal?.id], until: rack.day(5) })).status).toBe(409)
    const sold = await sell({ individuals: [animal?.id], buyer: ada })
    expect(sold.body.warnings).toEqual([])
    expect(await listHeld()).toEqual([])
  })

  test('is overtaken by a sale to somebody else, which is recorded with its warning', async () => {
    const [animal] = await makeSaleable(1)
    const ada = await addBuyer('Ada Quillfeather')
    await hold({ buyer: ada, individuals: [animal?.id], until: rack.day(5) })
    const { status, body } = await sell({ individuals: [animal?.id] })
    expect([status, body.warnings[0].code]).toEqual([201, 'reserved'])
    expect(JSON.stringify(body)).not.toContain('Quillfeather')
    const row = await within(rack.owner, (tx, { workspaceId }) =>
      tx.reservation.findFirst({ where: { workspaceId, individualId: animal?.id ?? '' } }),
    )
    expect(row).toMatchObject({ end: 'overtaken' })
  })

  test('ends by itself after its day, once, and can be let go before', async () => {
    const [first, second] = await makeSaleable(2)
    const ada = await addBuyer('Ada Quillfeather')
    const made = await hold({ buyer: ada, individuals: [first?.id, second?.id], until: rack.day(0) })
    const [one, two] = made.body.items
    const release = { token: rack.token, params: { id: one.id }, body: {} }
    expect((await callApi(postRelease, release)).status).toBe(201)
    expect((await callApi(postRelease, release)).status).toBe(409)
    await within(rack.owner, (tx, workspace) => endExpiredHold(tx, workspace, two.id))
    expect((await listHeld()).map(({ id }: { id: string }) => id)).toEqual([two.id])
    await within(rack.owner, (tx, workspace) =>
      endExpiredHold(tx, { ...workspace, today: rack.day(1) }, two.id),
    )
    expect(await listHeld()).toEqual([])
    expect((await hold({ buyer: ada, individuals: [second?.id], until: rack.day(2) })).status).toBe(201)
  })

  test.each([
    ['a day that has passed', { until: '2020-01-01' }, 'until'],
    ['a day in two years', { until: '2999-01-01' }, 'until'],
    ['nobody held', { individuals: [] }, 'individuals'],
  ])('with %s is refused at its field', async (_, wrong, path) => {
    const [animal] = await makeSaleable(1)
    const ada = await addBuyer('Ada Quillfeather')
    const right = { buyer: ada, individuals: [animal?.id], until: rack.day(3) }
    expect((await hold({ ...right, ...wrong })).body.errors).toMatchObject([{ path }])
  })

  test('and a sale of the same animal at once: both orders of arrival leave one truth', async () => {
    const animals = await makeSaleable(12)
    const ada = await addBuyer('Ada Quillfeather')
    for (const { id } of animals) {
      const [held, sold] = await Promise.all([
        hold({ buyer: ada, individuals: [id], until: rack.day(3) }),
        sell({ individuals: [id] }),
      ])
      expect(sold.status).toBe(201)
      // Held first: overtaken. Sold first: nothing is left to hold.
      expect([201, 409]).toContain(held.status)
      const codes = sold.body.warnings.map(({ code }: { code: string }) => code)
      expect(codes.includes('reserved')).toBe(held.status === 201)
    }
    expect(await listHeld()).not.toContainEqual(expect.objectContaining({ individual: animals[0]?.id }))
    const open = await within(rack.owner, (tx, { workspaceId }) =>
      tx.reservation.count({
        where: { workspaceId, endedOn: null, individualId: { in: animals.map(({ id }) => id) } },
      }),
    )
    expect(open).toBe(0)
  })

  test('of one animal by eight at once is one hold', async () => {
    const [animal] = await makeSaleable(1)
    const ada = await addBuyer('Ada Quillfeather')
    const answers = await Promise.all(
      Array.from({ length: 8 }, () => hold({ buyer: ada, individuals: [animal?.id], until: rack.day(3) })),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
  })

  test('is made by keepers and the counter, and not by viewers', async () => {
    for (const [role, status] of [
      ['keeper', 200],
      ['counter', 200],
      ['viewer', 403],
    ] as const)
      expect((await callApi(listHolds, { token: await makeToken(rack.owner, role) })).status).toBe(status)
  })
})

describe('the check before a sale', () => {
  test('knows a beginner and a border', async () => {
    const brood = { hatchedOn: rack.day(-20), partedOn: rack.day(-3), lastMoultOn: rack.day(-6) }
    const [young] = await makeNymphs(rack, { count: 1, moults: 1, ...brood })
    const pia = await addBuyer('Pia Thistledown', { experience: 'beginner', country: 'CH' })
    const { body } = await sell({ individuals: [young?.id], buyer: pia })
    const codes = body.warnings.map(({ code }: { code: string }) => code)
    expect(codes).toEqual(expect.arrayContaining(['too-young-for-beginner', 'papers-abroad']))
  })
})

describe('what is for sale', () => {
  test('is free, has a price and is counted by instar and sex; a copy of a list has its prices', async () => {
    const room = await makeRack('For sale')
    const animals = await makeSaleable(4, room)
    const list = (await callApi(getForSale, { token: room.token })).body.items
    expect(list).toEqual([])
    await within(room.owner, async (tx, workspace) => {
      const { id } = await createPriceList(tx, workspace.workspaceId, { name: 'Counter' })
      const species = await requireSpecies(tx, workspace.workspaceId, 'creobroter-spp')
      await updateAnimalPrice(tx, workspace, { list: id, species: species.id, stage: '4', price: 18.5 })
      await createPriceList(tx, workspace.workspaceId, { name: 'Fair', copyOf: id })
      const lists = await listPriceLists(tx, workspace.workspaceId)
      expect(lists.map(({ name, proposed, prices }) => [name, proposed, prices[0]?.priceMinor])).toEqual([
        ['Counter', true, 1850],
        ['Fair', false, 1850],
      ])
    })
    const buyer = await addBuyer('Ada Quillfeather', {}, room)
    const held = { buyer, individuals: [animals[0]?.id], until: room.day(3) }
    await callApi(postHold, { token: room.token, body: held })
    const { body } = await callApi(getForSale, { token: room.token })
    expect(body.items).toMatchObject([
      { stage: '4th instar', sex: 'unsexed', count: 3, price: { amount: 1850, currency: 'EUR' } },
    ])
  })
})

describe('the registers', () => {
  test('say what came, went, was born and died by the ledger, on any past day, and taxes less what came back', async () => {
    const room = await makeRack('Register')
    const animals = await makeSaleable(3, room)
    await within(room.owner, (tx, workspace) =>
      makeClutch(tx, workspace, { rack: room, brood: { count: 7, hatchedOn: room.day(-10) } }),
    )
    const price = { amount: 1190, currency: 'EUR' }
    const line = (individual: string) => ({ individual, price, taxPercent: 19 })
    const ids = animals.map(({ id }) => id)
    await sell({ individuals: [ids[0]], lines: [line(String(ids[0]))] }, room)
    const back = await sell({ individuals: [ids[1]], lines: [line(String(ids[1]))] }, room)
    const ask = (from: string, until: string) =>
      callApi(getRegister, { token: room.token, query: `?from=${from}&until=${until}` })
    const today = await ask(room.day(-60), room.today)
    expect(today.body.items).toMatchObject([{ before: 0, born: 10, received: 0, sold: 2, died: 0, after: 8 }])
    const before = await ask(room.day(-60), room.day(-20))
    expect(before.body.items).toMatchObject([{ born: 3, sold: 0, after: 3 }])
    const since = await ask(room.day(-9), room.today)
    expect(since.body.items).toMatchObject([{ before: 10, born: 0, sold: 2, after: 8 }])
    await callApi(postReversal, {
      token: room.token,
      params: { id: back.body.id },
      body: { on: room.today, reason: 'came back', containerKind: room.cup, zone: room.zone },
    })
    expect((await ask(room.day(-60), room.today)).body.items).toMatchObject([{ sold: 1, after: 9 }])
    const taxes = await callApi(getTaxes, {
      token: room.token,
      query: `?from=${room.today}&until=${room.today}`,
    })
    expect(taxes.body.items).toEqual([{ percent: 19, net: 1000, tax: 190, gross: 1190, currency: 'EUR' }])
  })
})
