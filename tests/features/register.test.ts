import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postErasure } from '@/app/api/v1/buyers/[id]/erasure/route'
import { POST as postBuyer } from '@/app/api/v1/buyers/route'
import { POST as postEggCase } from '@/app/api/v1/egg-cases/route'
import { POST as postIndividual } from '@/app/api/v1/individuals/route'
import { GET as getJars } from '@/app/api/v1/registers/culture-jars/route'
import { GET as getEggCases } from '@/app/api/v1/registers/egg-cases/route'
import { GET as getPapers } from '@/app/api/v1/registers/papers/route'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { createCultures, recordDiscard } from '@/lib/features/culture/mutations'
import { newCultureSchema } from '@/lib/features/culture/schema'
import { archiveEggCase, updateEggCaseOpen } from '@/lib/features/egg-case/mutations'
import { listPapers } from '@/lib/features/paper/data'
import { archivePaper, createPaper } from '@/lib/features/paper/mutations'
import { originPaperSchema } from '@/lib/features/paper/schema'
import { listMovements } from '@/lib/features/register/data'
import { updateTill } from '@/lib/features/till/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Papers')
})

const PROOF = { kind: 'proof_of_origin', number: 'DE-77/12', on: '2025-06-01' } as const
const PERMIT = { kind: 'permit', number: 'P 4', on: '2025-07-01' } as const

async function addEggCase(room: Rack, laying: object): Promise<string> {
  const body = { species: 'creobroter-spp', zone: room.zone, ...laying }
  const made = await callApi(postEggCase, { token: room.token, body })
  expect(made.status).toBe(201)
  return made.body.id
}
const endEggCase = (
  room: Rack,
  eggCase: string,
  ending: { on: string; end: 'spent' | 'wasps' | 'given_away' },
) =>
  within(room.owner, (tx, workspace) =>
    archiveEggCase(tx, { scope: room.owner, workspace }, { eggCase, version: 1, ...ending }),
  )
const sell = (room: Rack, body: unknown) => callApi(postSale, { token: room.token, body })
const takeBack = (room: Rack, id: string, on = room.today) =>
  callApi(postReversal, { token: room.token, params: { id }, body: { on, reason: 'came back' } })
const ask = (handler: typeof getJars, room: Rack, [from, until]: [from: string, until: string]) =>
  callApi(handler, { token: room.token, query: `?from=${from}&until=${until}` }).then(
    ({ body }) => body.items,
  )
const listAll = (room: Rack, hasBuyers = false) =>
  within(room.owner, (tx, { workspaceId }) =>
    listMovements(tx, workspaceId, { from: room.day(-400), until: room.today, hasBuyers, limit: 100 }),
  )

async function addAnimal(room: Rack, more: object = {}) {
  const animal = { species: 'creobroter-spp', origin: 'bought', instar: 4, on: room.day(-12) }
  const place = { containerKind: room.cup, zone: room.zone }
  return callApi(postIndividual, { token: room.token, body: { ...animal, ...place, ...more } })
}

describe('the register of egg cases', () => {
  test('says what was laid, came, was spent, sold and came back, on any past day', async () => {
    const room = await makeRack('Egg cases')
    const [spent, sold, back] = [
      await addEggCase(room, { laidOn: room.day(-60) }),
      await addEggCase(room, { laidBetween: { from: room.day(-40), until: room.day(-35) } }),
      await addEggCase(room, { receivedOn: room.day(-30), supplier: 'The Fernery', lot: '7' }),
    ]
    await addEggCase(room, { laidOn: room.day(-80), receivedOn: room.day(-20) })
    await endEggCase(room, spent, { on: room.day(-10), end: 'spent' })
    await sell(room, { on: room.day(-8), stock: [{ kind: 'egg_case', eggCase: sold }] })
    const sale = await sell(room, { on: room.day(-6), stock: [{ kind: 'egg_case', eggCase: back }] })
    const during = await ask(getEggCases, room, [room.day(-60), room.day(-5)])
    expect(during).toMatchObject([{ before: 0, laid: 2, received: 2, spent: 1, sold: 2, after: 1 }])
    expect((await takeBack(room, sale.body.id, room.day(-2))).status).toBe(201)
    // What came back counts on its day: the stock of the day before it is what it was.
    expect(await ask(getEggCases, room, [room.day(-60), room.day(-5)])).toEqual(during)
    const [row] = await ask(getEggCases, room, [room.day(-5), room.today])
    expect(row).toMatchObject({ before: 1, laid: 0, received: 0, sold: -1, after: 2 })
    expect(await ask(getEggCases, room, [room.day(-90), room.day(-61)])).toEqual([])
    const [early] = await ask(getEggCases, room, [room.day(-33), room.day(-15)])
    expect(early).toMatchObject({ before: 2, received: 2, spent: 0, sold: 0, after: 4 })
  })

  test('a sold one is not taken back onto the shelf without its receipt', async () => {
    const sold = await addEggCase(rack, { laidOn: rack.day(-20) })
    await sell(rack, { stock: [{ kind: 'egg_case', eggCase: sold }] })
    const reopen = within(rack.owner, (tx, workspace) =>
      updateEggCaseOpen(tx, { scope: rack.owner, workspace }, { eggCase: sold, version: 2 }),
    )
    await expect(reopen).rejects.toMatchObject({ code: 'already-gone' })
  })
})

describe('the register of culture jars', () => {
  test('says what was started, bought, sold and thrown away, and a jar that came back stays sold', async () => {
    const room = await makeRack('Jars')
    const start = (more: object) =>
      within(room.owner, (tx, workspace) =>
        createCultures(
          tx,
          { scope: room.owner, workspace },
          newCultureSchema.parse({ line: 'melanogaster', startedOn: room.day(-20), ...more }),
        ),
      )
    const { value: own } = await start({ count: 3 })
    await start({ count: 2, bought: true, startedOn: room.day(-5) })
    const [sold, thrown] = own
    const sale = await sell(room, { on: room.day(-4), stock: [{ kind: 'culture', culture: sold }] })
    await within(room.owner, (tx, workspace) =>
      recordDiscard(tx, workspace, { culture: String(thrown), on: room.day(-3), as: 'discarded' }),
    )
    await takeBack(room, sale.body.id)
    const all = { started: 3, bought: 2, sold: 1, discarded: 1, before: 0, after: 3 }
    const rows = await ask(getJars, room, [room.day(-30), room.today])
    expect(rows).toEqual([{ line: rows[0].line, ...all }])
    const [early] = await ask(getJars, room, [room.day(-10), room.day(-4)])
    expect(early).toMatchObject({ before: 3, started: 0, bought: 2, sold: 1, discarded: 0, after: 4 })
  })
})

describe('papers', () => {
  test('stand beside what they came and went with, for each movement, and in a register of their own', async () => {
    const room = await makeRack('With papers')
    const animal = await addAnimal(room, { supplier: 'The Fernery', papers: [PROOF] })
    expect(animal.status).toBe(201)
    const eggCase = await addEggCase(room, { receivedOn: room.day(-10), papers: [PERMIT] })
    const buyer = await callApi(postBuyer, { token: room.token, body: { name: 'Ada Quillfeather' } })
    const ids = { individuals: [animal.body.id], stock: [{ kind: 'egg_case', eggCase }] }
    const whole = { kind: 'crossing', number: 'X 9', on: room.today }
    const sale = await sell(room, { ...ids, buyer: buyer.body.id, papers: [whole] })
    await within(room.owner, (tx, workspace) =>
      createPaper(
        tx,
        { scope: room.owner, workspace },
        {
          subject: { kind: 'sale', id: sale.body.id, line: 1 },
          paper: PROOF,
        },
      ),
    )
    const rows = await listAll(room, true)
    const numbersOf = (thing: string, what: string) =>
      rows.find((row) => row.thing === thing && row.what === what)?.papers.map(({ number }) => number)
    expect(numbersOf('animals', 'received')).toEqual(['DE-77/12'])
    expect(numbersOf('egg case', 'received')).toEqual(['P 4'])
    expect(numbersOf('animals', 'sold')).toEqual(['X 9', 'DE-77/12'])
    expect(numbersOf('egg case', 'sold')).toEqual(['X 9'])
    const gone = rows.filter(({ what }) => what === 'sold')
    expect(gone.map(({ other, buyer: named }) => [other, named])).toEqual([
      ['receipt 1', 'Ada Quillfeather'],
      ['receipt 1', 'Ada Quillfeather'],
    ])
    const register = await ask(getPapers, room, [room.day(-12), room.today])
    expect(register.map((paper: { movedOn: string; came: boolean; number: string }) => paper)).toMatchObject([
      { movedOn: room.day(-12), came: true, number: 'DE-77/12', label: animal.body.label },
      { movedOn: room.day(-10), came: true, number: 'P 4' },
      { movedOn: room.today, came: false, number: 'X 9', label: '', receipt: '1' },
      { movedOn: room.today, came: false, number: 'DE-77/12', receipt: '1' },
    ])
    expect(await ask(getPapers, room, [room.day(-11), room.day(-10)])).toHaveLength(1)
  })

  test.each([
    ['without a number', { number: ' ' }, 'papers.0.number'],
    ['of a kind that is none', { kind: 'letter' }, 'papers.0.kind'],
    ['of a day that has not come', { on: '2199-01-01' }, 'papers.0.on'],
  ])('%s are refused at their place, and nothing is recorded', async (_, wrong, path) => {
    const before = await listAll(rack)
    const { status, body } = await addAnimal(rack, { papers: [{ ...PROOF, ...wrong }] })
    expect(status).toBe(422)
    expect(body.errors).toMatchObject([{ path }])
    expect(await listAll(rack)).toEqual(before)
  })

  test('are recorded later as well, taken back once, and only on the side they belong to', async () => {
    const animal = await addAnimal(rack)
    const subject = { kind: 'individual' as const, id: String(animal.body.id) }
    const write = <T>(work: Parameters<typeof within<T>>[1]) => within(rack.owner, work)
    await write((tx, workspace) =>
      createPaper(tx, { scope: rack.owner, workspace }, { subject, paper: PERMIT }),
    )
    const list = () => write((tx, { workspaceId }) => listPapers(tx, workspaceId, subject))
    const [paper] = await list()
    expect(paper).toMatchObject(PERMIT)
    const archive = (side: 'came' | 'went') =>
      write((tx, workspace) => archivePaper(tx, workspace, { paper: String(paper?.id), version: 1, side }))
    await expect(archive('went')).rejects.toMatchObject({ code: 'not-found' })
    await archive('came')
    await expect(archive('came')).rejects.toMatchObject({ code: 'stale' })
    expect(await list()).toEqual([])
    expect(originPaperSchema.safeParse({ ...PERMIT, subject: 'sale', id: subject.id }).success).toBe(false)
  })

  test('with a line that is neither animal nor egg case are for the whole receipt', async () => {
    const stock = [{ kind: 'other', description: 'A book', quantity: 1 }]
    const sale = await sell(rack, { stock })
    const write = within(rack.owner, (tx, workspace) =>
      createPaper(
        tx,
        { scope: rack.owner, workspace },
        {
          subject: { kind: 'sale', id: sale.body.id, line: 1 },
          paper: PERMIT,
        },
      ),
    )
    await expect(write).rejects.toMatchObject({ fields: [{ path: 'line' }] })
  })

  test('lose their number with the buyer when the duty to keep has ended, and not before', async () => {
    const room = await makeRack('Forgotten papers')
    const buyer = await callApi(postBuyer, { token: room.token, body: { name: 'Ada Quillfeather' } })
    const stock = [{ kind: 'other', description: 'A book', quantity: 1 }]
    await sell(room, { on: room.day(-3), stock, buyer: buyer.body.id, papers: [PERMIT] })
    await sell(room, { on: room.day(-3), stock, papers: [PROOF] })
    const setYears = (retentionYears: number, version: number) =>
      within(room.owner, (tx, { workspaceId }) =>
        updateTill(tx, workspaceId, {
          ...{ version, retentionYears, pricesIncludeTax: true, receiptWords: '', certifiedTill: false },
        }),
      )
    const erase = () => callApi(postErasure, { token: room.token, params: { id: buyer.body.id }, body: {} })
    const numbers = async () =>
      (await ask(getPapers, room, [room.day(-3), room.today])).map(({ number }: { number: string }) => number)
    await setYears(10, 0)
    expect((await erase()).body.status).toBe('waits')
    expect(await numbers()).toEqual(['P 4', 'DE-77/12'])
    await setYears(0, 1)
    expect((await erase()).body.status).toBe('erased')
    expect(await numbers()).toEqual(['', 'DE-77/12'])
  })

  test('are read by whoever may read the registers', async () => {
    const query = `?from=${rack.day(-3)}&until=${rack.today}`
    for (const role of ['keeper', 'viewer'] as const)
      expect((await callApi(getPapers, { token: await makeToken(rack.owner, role), query })).status).toBe(403)
    expect((await callApi(getPapers, { token: await makeToken(rack.owner, 'counter'), query })).status).toBe(
      200,
    )
  })
})
