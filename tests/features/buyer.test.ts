import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postErasure } from '@/app/api/v1/buyers/[id]/erasure/route'
import { GET as getBuyer, PATCH as patchBuyer } from '@/app/api/v1/buyers/[id]/route'
import { GET as listBuyers, POST as postBuyer } from '@/app/api/v1/buyers/route'
import { POST as postOrder } from '@/app/api/v1/orders/route'
import { POST as postRelease } from '@/app/api/v1/reservations/[id]/release/route'
import { POST as postHold } from '@/app/api/v1/reservations/route'
import { POST as postReversal } from '@/app/api/v1/sales/[id]/reversal/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { loadBuyerRecord } from '@/lib/features/buyer/loaders'
import { finishErasure } from '@/lib/features/buyer/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { updateTill } from '@/lib/features/till/mutations'
import { createWish, endWish } from '@/lib/features/wish/mutations'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

const database = requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Buyers')
})

const ADA = {
  name: 'Ada Quillfeather',
  email: 'ada.quill@example.test',
  phone: '+49 30 5550 771',
  address: 'Teasel Row 4',
  country: 'DE',
  experience: 'beginner',
  note: 'collects on Fridays',
  keepConsent: true,
}

const add = async (room = rack) => {
  const { body } = await callApi(postBuyer, { token: room.token, body: ADA })
  return String(body.id)
}
const load = (id: string, room = rack) => callApi(getBuyer, { token: room.token, params: { id } })
const erase = (id: string, room = rack) =>
  callApi(postErasure, { token: room.token, params: { id }, body: {} })
const setYears = (room: Rack, retentionYears: number, version = 0) =>
  within(room.owner, (tx, { workspaceId }) =>
    updateTill(tx, workspaceId, {
      version,
      retentionYears,
      pricesIncludeTax: true,
      receiptWords: '',
      certifiedTill: false,
    }),
  )

async function sellTo(buyer: string, room = rack) {
  const [nymph] = await makeNymphs(room, {
    count: 1,
    hatchedOn: room.day(-40),
    partedOn: room.day(-3),
    moults: 3,
    lastMoultOn: room.day(-4),
  })
  const lines = [{ individual: nymph?.id, price: { amount: 1500, currency: 'EUR' } }]
  return callApi(postSale, { token: room.token, body: { individuals: [nymph?.id], lines, buyer } })
}

/** Every place of the database, the queue's tables excepted, where a text stands. */
const findText = (text: string) =>
  withClient(database.urls.admin, async (client) => {
    const { rows: tables } = await client.query<{ name: string }>(
      `select c.relname as name from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind = 'r'`,
    )
    const found: string[] = []
    for (const { name } of tables) {
      const { rowCount } = await client.query(`select from "${name}" t where t::text like $1 limit 1`, [
        `%${text}%`,
      ])
      if (rowCount) found.push(name)
    }
    return found.sort()
  })

describe('a buyer', () => {
  test('is added with the day of each consent, found by a part of the name, and changed whole', async () => {
    const id = await add()
    const { body } = await load(id)
    expect(body).toMatchObject({ name: ADA.name, keepConsentOn: rack.today, newsConsentOn: null, version: 1 })
    const found = await callApi(listBuyers, { token: rack.token, query: '?search=quillF' })
    expect(found.body.items.map((buyer: { id: string }) => buyer.id)).toContain(id)
    const changed = await callApi(patchBuyer, {
      token: rack.token,
      method: 'PATCH',
      params: { id },
      body: { ...ADA, keepConsent: false, newsConsent: true },
      headers: { 'if-match': '1' },
    })
    expect(changed.body).toMatchObject({ keepConsentOn: null, newsConsentOn: rack.today, version: 2 })
    const stale = await callApi(patchBuyer, {
      token: rack.token,
      method: 'PATCH',
      params: { id },
      body: ADA,
      headers: { 'if-match': '1' },
    })
    expect(stale.status).toBe(409)
  })

  test.each([
    ['no name', { name: '' }, 'name'],
    ['a mail address that is none', { email: 'ada' }, 'email'],
    ['a country in words', { country: 'Germany' }, 'country'],
    ['an unknown field', { birthday: '1990-01-01' }, 'birthday'],
  ])('with %s is refused at the field', async (_, wrong, path) => {
    const { status, body } = await callApi(postBuyer, { token: rack.token, body: { ...ADA, ...wrong } })
    expect(status).toBe(422)
    expect(body.errors).toMatchObject([{ path }])
  })

  test('stands in one table: neither the audit trail nor the kept answers know the person', async () => {
    const room = await makeRack('Trail')
    const { body } = await callApi(postBuyer, {
      token: room.token,
      body: { ...ADA, name: 'Wilhelmina Rushlight' },
      headers: { 'idempotency-key': 'once' },
    })
    await sellTo(body.id, room)
    expect(await findText('Rushlight')).toEqual(['buyer_person'])
  })

  test('is not for keepers and viewers', async () => {
    for (const role of ['keeper', 'viewer'] as const) {
      const token = await makeToken(rack.owner, role)
      expect((await callApi(listBuyers, { token })).status).toBe(403)
      expect((await callApi(postBuyer, { token, body: ADA })).status).toBe(403)
    }
    const token = await makeToken(rack.owner, 'counter')
    expect((await callApi(postBuyer, { token, body: ADA })).status).toBe(201)
  })
})

describe('an erasure', () => {
  test('is done at once where nothing has to be kept, and the sale keeps its figures', async () => {
    const room = await makeRack('No duty')
    const id = await add(room)
    const sold = await sellTo(id, room)
    expect(sold).toMatchObject({ status: 201, body: { buyer: id, total: { amount: 1500 } } })
    expect((await erase(id, room)).body).toEqual({ id, status: 'erased', until: null })
    const { body } = await load(id, room)
    expect(body).toMatchObject({ name: '', email: '', phone: '', address: '', note: '' })
    expect(body.erasedOn).toBe(room.today)
    expect((await erase(id, room)).status).toBe(409)
  })

  test('waits while receipts have to be kept and says until when; the rest goes today', async () => {
    const room = await makeRack('Ten years')
    await setYears(room, 10)
    const id = await add(room)
    await sellTo(id, room)
    const until = `${Number(room.today.slice(0, 4)) + 10}${room.today.slice(4)}`
    expect((await erase(id, room)).body).toEqual({ id, status: 'waits', until })
    const { body } = await load(id, room)
    expect(body).toMatchObject({ name: ADA.name, address: ADA.address, email: '', phone: '', note: '' })
    expect(body).toMatchObject({ erasedOn: null, erasureAskedOn: room.today, experience: 'unknown' })
    // Meanwhile nobody adds to it.
    expect((await sellTo(id, room)).status).toBe(422)
    const change = { token: room.token, method: 'PATCH', params: { id }, body: ADA }
    expect((await callApi(patchBuyer, change)).status).toBe(409)
    // The job that comes too early does nothing; once the duty has ended it forgets the rest.
    await within(room.owner, (tx, workspace) => finishErasure(tx, workspace, id))
    expect((await load(id, room)).body.erasedOn).toBeNull()
    await setYears(room, 0, 1)
    await within(room.owner, (tx, workspace) => finishErasure(tx, workspace, id))
    expect((await load(id, room)).body).toMatchObject({ name: '', address: '', erasedOn: room.today })
  })

  test('asks the queue once for the day on which the duty ends, and takes it back when nobody is left', async () => {
    const room = await makeRack('Queued once')
    const queued = async () => {
      const { rows } = await withClient(database.urls.admin, (client) =>
        client.query<{ year: number }>(
          `select extract(year from j.run_at)::int as year
           from graphile_worker.jobs j join graphile_worker._private_jobs p using (id)
           where j.task_identifier = 'erase-buyer' and p.payload ->> 'workspaceId' = $1`,
          [room.owner.workspaceId],
        ),
      )
      return rows.map(({ year }) => year - Number(room.today.slice(0, 4)))
    }
    await setYears(room, 10)
    const id = await add(room)
    await sellTo(id, room)
    await erase(id, room)
    expect(await queued()).toEqual([10])
    await setYears(room, 6, 1)
    await erase(id, room)
    expect(await queued()).toEqual([6])
    await setYears(room, 0, 2)
    expect((await erase(id, room)).body).toMatchObject({ status: 'erased' })
    expect(await queued()).toEqual([])
  })
})

describe('what is handed to a person about themselves', () => {
  const act = <T>(room: Rack, work: (...all: Parameters<Parameters<typeof within<T>>[1]>) => Promise<T>) =>
    within(room.owner, work)
  const makeSaleable = (room: Rack, count: number) =>
    makeNymphs(room, {
      ...{ count, hatchedOn: room.day(-40), partedOn: room.day(-3), moults: 3, lastMoultOn: room.day(-4) },
    })

  test('is everything that is held: sales, orders, holds, wishes and papers, those that are over as well', async () => {
    const room = await makeRack('Export')
    const id = await add(room)
    const other = await add(room)
    const [held, released, sent, theirs] = (await makeSaleable(room, 4)).map((nymph) => nymph.id)
    const sold = await sellTo(id, room)
    await callApi(postReversal, {
      token: room.token,
      params: { id: sold.body.id },
      body: { on: room.today, reason: 'came back', containerKind: room.cup, zone: room.zone },
    })
    const paper = { kind: 'permit', number: 'ADA 1', on: room.today }
    const stock = [{ kind: 'other', description: 'A book', quantity: 1 }]
    await callApi(postSale, { token: room.token, body: { stock, buyer: id, papers: [paper] } })
    await sellTo(other, room)
    const hold = (individual: string | undefined, buyer: string) =>
      callApi(postHold, { token: room.token, body: { buyer, individuals: [individual], until: room.day(4) } })
    await hold(held, id)
    const over = await hold(released, id)
    await callApi(postRelease, { token: room.token, params: { id: over.body.items[0].id }, body: {} })
    await hold(theirs, other)
    await act(room, async (tx, workspace) => {
      const species = await requireSpecies(tx, workspace.workspaceId, 'creobroter-spp')
      const wish = { buyer: id, species: species.id, count: 2, by: room.day(30) }
      const made = await createWish(tx, workspace, wish)
      await endWish(tx, workspace, { id: made.id, version: 1, as: 'withdrawn' })
      await createWish(tx, workspace, { ...wish, count: 5 })
    })
    const line = {
      species: 'creobroter-spp',
      takes: 'nymph',
      fromMoults: 3,
      untilMoults: 3,
      count: 1,
      price: 1400,
    }
    const order = await callApi(postOrder, {
      token: room.token,
      body: {
        ...{ buyer: id, lines: [line], individuals: [sent], note: 'Ring twice' },
        recipient: { name: 'Ada Q', address: 'Teasel Row 4', phone: '771' },
      },
    })
    expect(order.status).toBe(201)
    const record = await act(room, (tx, workspace) => loadBuyerRecord(tx, workspace, id))
    expect(record.buyer).toMatchObject({ name: ADA.name, email: ADA.email, keepConsentOn: room.today })
    expect(record.sales.map(({ receipt }) => receipt).sort()).toEqual(['1', '2'])
    expect(record.sales.find(({ receipt }) => receipt === '1')).toMatchObject({
      ...{ total: { amount: 1500 }, reversal: { reason: 'came back' }, returns: [{ returnNumber: 1 }] },
    })
    expect(record.papers).toMatchObject([
      { ...paper, saleId: record.sales.find(({ receipt }) => receipt === '2')?.id },
    ])
    expect(record.orders).toMatchObject([
      { note: 'Ring twice', recipient: { name: 'Ada Q', address: 'Teasel Row 4', phone: '771' } },
    ])
    expect(record.orders[0]?.lines[0]?.chosen.map((animal) => animal.id)).toEqual([sent])
    expect(record.holds.map(({ individualId, end }) => [individualId, end])).toEqual([
      [held, null],
      [released, 'released'],
    ])
    expect(record.wishes.map(({ count, end }) => [count, end])).toEqual([
      [2, 'withdrawn'],
      [5, null],
    ])
    // Nothing of anybody else.
    expect(JSON.stringify(record)).not.toContain(other)
  })

  test('has a part for every table that names a buyer', async () => {
    const tables = await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query<{ name: string }>(
        `select conrelid::regclass::text as name from pg_constraint
         where contype = 'f' and confrelid = 'buyer'::regclass order by 1`,
      )
      return rows.map(({ name }) => name)
    })
    expect(tables).toEqual(['buyer_person', 'customer_order', 'reservation', 'sale', 'wish'])
  })

  test('says until when receipts have to be kept', async () => {
    const room = await makeRack('Kept until')
    await setYears(room, 10)
    const id = await add(room)
    await sellTo(id, room)
    const record = await act(room, (tx, workspace) => loadBuyerRecord(tx, workspace, id))
    expect(record.receiptsKeptUntil).toBe(`${Number(room.today.slice(0, 4)) + 10}${room.today.slice(4)}`)
  })
})
