import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postErasure } from '@/app/api/v1/buyers/[id]/erasure/route'
import { GET as getBuyer, PATCH as patchBuyer } from '@/app/api/v1/buyers/[id]/route'
import { GET as listBuyers, POST as postBuyer } from '@/app/api/v1/buyers/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { finishErasure } from '@/lib/features/buyer/mutations'
import { updateTill } from '@/lib/features/till/mutations'
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
