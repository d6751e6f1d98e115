import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postBuyer } from '@/app/api/v1/buyers/route'
import { POST as postClearance } from '@/app/api/v1/individuals/[id]/clearances/route'
import { POST as postDeparture } from '@/app/api/v1/orders/[id]/departure/route'
import { POST as postOrder } from '@/app/api/v1/orders/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { PATCH as patchQuarantine } from '@/app/api/v1/zones/[id]/quarantine/route'
import { OVERRIDABLE, type OverridableCode } from '@/lib/domain/role/overrides'
import type { Role } from '@/lib/domain/role/permissions'
import { archiveClearance, createClearance } from '@/lib/features/clearance/mutations'
import { recordLeaving } from '@/lib/features/departure/mutations'
import { loadCounter } from '@/lib/features/sale/loaders'
import { createSale } from '@/lib/features/sale/mutations'
import { counterSaleSchema, readCounterSale } from '@/lib/features/sale/schema'
import { requireShowBox } from '@/lib/features/show-box/data'
import { createShowBox, recordBoxedAnimals } from '@/lib/features/show-box/mutations'
import { loadStallPart } from '@/lib/features/stall/loaders'
import { recordPartTaken, recordStallReceipts } from '@/lib/features/stall/mutations'
import { loadTill } from '@/lib/features/till/data'
import { updateTill } from '@/lib/features/till/mutations'
import { tillSchema } from '@/lib/features/till/schema'
import type { Scope } from '@/lib/platform/workspace'
import { requireDatabase } from '@/tests/support/database'
import { makeClutch, makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, makeMember, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let tokens: Record<Role, string>
let scopes: Record<'owner' | 'keeper' | 'counter', Scope>
beforeAll(async () => {
  rack = await makeRack('Overrides')
  const tokenOf = (role: Role) => makeToken(rack.owner, role)
  tokens = {
    ...{ owner: rack.token, keeper: await tokenOf('keeper') },
    ...{ counter: await tokenOf('counter'), viewer: await tokenOf('viewer') },
  }
  const [keeper, counter] = [await makeMember(rack.owner, 'keeper'), await makeMember(rack.owner, 'counter')]
  scopes = { owner: rack.owner, keeper, counter }
})

/** Its next moult is about now. */
const makeDue = (count = 1, room = rack) =>
  makeNymphs(room, {
    ...{ count, hatchedOn: room.day(-40), partedOn: room.day(-17), moults: 3, lastMoultOn: room.day(-17) },
  })
const makeYoung = (count = 1) =>
  makeNymphs(rack, {
    ...{ count, hatchedOn: rack.day(-12), partedOn: rack.day(-2), moults: 1, lastMoultOn: rack.day(-2) },
  })
/** Nothing keeps them here. */
const makeFit = (count = 1) =>
  makeNymphs(rack, {
    ...{ count, hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-4) },
  })
const sell = (nymph: Nymph | undefined, role: Role, more: object = {}) =>
  callApi(postSale, { token: tokens[role], body: { individuals: [nymph?.id], ...more } })
const clear = (nymph: Nymph | undefined, role: Role, body: object = { reason: 'The buyer keeps it warm.' }) =>
  callApi(postClearance, { token: tokens[role], params: { id: String(nymph?.id) }, body })
const as = <T>(role: 'owner' | 'keeper' | 'counter', work: Parameters<typeof within<T>>[1]) =>
  within(scopes[role], work)

async function setOverrides(counterOverrides: OverridableCode[], keeperOverrides: OverridableCode[]) {
  await as('owner', async (tx, { workspaceId }) => {
    const { version } = await loadTill(tx, workspaceId)
    const set = tillSchema.parse({ version, retentionYears: 0, counterOverrides, keeperOverrides })
    await updateTill(tx, workspaceId, set)
  })
}
const resetOverrides = () => setOverrides(['too-young-for-beginner', 'reserved'], [...OVERRIDABLE])

describe('an animal that should stay', () => {
  test('is kept back from the counter when its moult is due, and the owner may sell it with a reason', async () => {
    const [nymph] = await makeDue()
    const refused = await sell(nymph, 'counter', {
      lines: [{ individual: nymph?.id, overrideReason: 'He insists.' }],
    })
    expect(refused).toMatchObject({ status: 403, body: { type: '/problems/not-cleared' } })
    expect(refused.body.detail).toMatch(/It will probably moult .* Ask a keeper or the owner\.$/)
    expect(refused.body.errors).toMatchObject([{ path: 'individuals.0' }])
    // The keeper sells nothing at all.
    expect((await sell(nymph, 'keeper')).status).toBe(403)
    const lines = [{ individual: nymph?.id, overrideReason: 'It goes two doors down.' }]
    const sold = await sell(nymph, 'owner', { lines })
    expect(sold.status).toBe(201)
    expect(sold.body.lines[0].overrideReason).toBe('It goes two doors down.')
  })

  test('is not given away by the counter either, until a keeper lets it go', async () => {
    const [due, fit] = [...(await makeDue()), ...(await makeFit())]
    const giveAway = (role: 'keeper' | 'counter', nymph: Nymph | undefined) =>
      as(role, (tx, workspace) =>
        recordLeaving(
          tx,
          { scope: scopes[role], workspace },
          {
            individuals: [String(nymph?.id)],
            on: workspace.today,
            to: 'given_away',
            cause: 'unknown',
            note: '',
          },
        ),
      )
    await expect(giveAway('counter', due)).rejects.toMatchObject({
      code: 'not-cleared',
      message: expect.stringMatching(/should stay: about to moult\. Ask a keeper or the owner\.$/),
    })
    await giveAway('counter', fit)
    expect((await clear(due, 'keeper')).status).toBe(201)
    await giveAway('counter', due)
    const [other] = await makeDue()
    await giveAway('keeper', other)
  })

  test('is sold by the counter to a beginner who was told, and not out of quarantine', async () => {
    const [young] = await makeYoung()
    const [other] = await makeFit()
    const buyer = await callApi(postBuyer, {
      token: rack.token,
      body: { name: 'Ada', experience: 'beginner' },
    })
    const sold = await sell(young, 'counter', { buyer: buyer.body.id })
    expect(sold).toMatchObject({ status: 201 })
    expect(sold.body.warnings.map(({ code }: { code: string }) => code)).toContain('too-young-for-beginner')
    const quarantine = (until?: string) =>
      callApi(patchQuarantine, {
        token: rack.token,
        method: 'PATCH',
        params: { id: rack.zone },
        body: { reason: until ? 'new stock' : '', ...(until ? { until } : {}) },
      })
    await quarantine(rack.day(9))
    const refused = await sell(other, 'counter')
    await quarantine()
    expect(refused.body.type).toBe('/problems/not-cleared')
    expect(refused.body.detail).toMatch(/quarantine/)
    expect((await sell(other, 'counter')).status).toBe(201)
  })

  test('is neither sold as a lot nor laid out of quarantine by the counter, which is told before', async () => {
    const room = await makeRack('Quarantined stock')
    const [counterToken, member] = [
      await makeToken(room.owner, 'counter'),
      await makeMember(room.owner, 'counter'),
    ]
    const clutch = await within(room.owner, (tx, workspace) =>
      makeClutch(tx, workspace, { rack: room, brood: { count: 9, hatchedOn: room.day(-10) } }),
    )
    await callApi(patchQuarantine, {
      token: room.token,
      method: 'PATCH',
      params: { id: room.zone },
      body: { reason: 'new stock', until: room.day(9) },
    })
    const stock = [{ kind: 'lot', clutch, males: 0, females: 0, unsexed: 2 }]
    const seen = await within(member, (tx, workspace) =>
      loadCounter(tx, { scope: member, workspace }, { codes: '', also: `lot~${clutch}`, buyer: '' }),
    )
    expect(seen.stock[0]?.kept).toMatch(/quarantine until .* Only the owner may sell it\.$/)
    const refused = await callApi(postSale, { token: counterToken, body: { stock } })
    expect(refused).toMatchObject({
      status: 403,
      body: { type: '/problems/not-cleared', errors: [{ path: 'stock.0.price' }] },
    })
    const sold = await callApi(postSale, { token: room.token, body: { stock } })
    expect(sold.status).toBe(201)
    expect(sold.body.warnings).toMatchObject([{ code: 'quarantine' }])
  })

  test('is not handed over with an order by the counter either, while a box that was sent is not called back', async () => {
    const [collected, sent] = await makeDue(2)
    const line = {
      ...{ species: 'creobroter-spp', takes: 'nymph', fromMoults: 3, untilMoults: 3, count: 1, price: 1400 },
    }
    const leave = async (nymph: Nymph | undefined, way: 'collected' | 'sent', role: Role) => {
      const order = { way, lines: [line], individuals: [nymph?.id] }
      const made = await callApi(postOrder, { token: tokens.owner, body: order })
      expect(made.status).toBe(201)
      const asked = { token: tokens[role], params: { id: made.body.id }, body: { on: rack.today } }
      return { first: await callApi(postDeparture, asked), again: asked }
    }
    const { first, again } = await leave(collected, 'collected', 'counter')
    expect(first).toMatchObject({ status: 403, body: { type: '/problems/not-cleared' } })
    expect((await callApi(postDeparture, { ...again, token: tokens.owner })).status).toBe(201)
    expect((await leave(sent, 'sent', 'counter')).first.status).toBe(201)
  })

  test('follows what the workspace has set', async () => {
    const [first, second] = await makeDue(2)
    await setOverrides(['moult-expected'], ['too-young'])
    expect((await sell(first, 'counter')).status).toBe(201)
    const none = await clear(second, 'keeper')
    expect(none).toMatchObject({ status: 403, body: { type: '/problems/not-cleared' } })
    await setOverrides([], ['too-young'])
    const refused = await sell(second, 'counter')
    expect(refused.body.detail).toMatch(/Ask the owner\.$/)
    await resetOverrides()
  })

  test('is shown as kept back before anything is tapped, and the form does not send it', async () => {
    const [nymph] = await makeDue()
    const look = (role: 'owner' | 'counter') =>
      as(role, (tx, workspace) =>
        loadCounter(
          tx,
          { scope: scopes[role], workspace },
          { codes: String(nymph?.label), also: '', buyer: '' },
        ),
      )
    const [seen] = (await look('counter')).items
    expect(seen?.keptBack).toEqual({ codes: ['moult-expected'], whom: 'Ask a keeper or the owner', open: [] })
    const [own] = (await look('owner')).items
    expect(own?.keptBack).toEqual({ codes: [], whom: null, open: ['moult-expected'] })
    const line = { individual: nymph?.id, price: 9, isAdvisedAgainst: false }
    const typed = (isKeptBack: boolean) => counterSaleSchema.safeParse({ lines: [{ ...line, isKeptBack }] })
    expect(typed(true).error?.issues.map(({ path }) => path.join('.'))).toEqual(['lines.0.isKeptBack'])
    const read = counterSaleSchema.parse({ lines: [{ ...line, isKeptBack: false }] })
    // Whatever the form says of itself, the service judges.
    const sent = as('counter', (tx, workspace) =>
      createSale(tx, { scope: scopes.counter, workspace }, readCounterSale(read, workspace)),
    )
    await expect(sent).rejects.toMatchObject({
      ...{ code: 'not-cleared', fields: [{ path: 'lines.0.overrideReason' }] },
      present: { individual: nymph?.id, codes: ['moult-expected'] },
    })
  })
})

describe('whoever may override it', () => {
  test('lets it leave that day, which the counter then sells and which stands beside the sale', async () => {
    const [nymph] = await makeDue()
    const given = await clear(nymph, 'keeper')
    expect(given).toMatchObject({ status: 201, body: { codes: ['moult-expected'] } })
    const [seen] = (
      await as('counter', (tx, workspace) =>
        loadCounter(
          tx,
          { scope: scopes.counter, workspace },
          { codes: String(nymph?.label), also: '', buyer: '' },
        ),
      )
    ).items
    expect(seen?.keptBack).toEqual({ codes: [], whom: null, open: [] })
    expect(seen?.cleared.join()).toMatch(/The buyer keeps it warm\.$/)
    const sold = await sell(nymph, 'counter')
    expect(sold.status).toBe(201)
    expect(sold.body.lines[0].overrideReason).toMatch(/The buyer keeps it warm\.$/)
  })

  test('does so for one animal and one day, and can take it back', async () => {
    const [one, other] = await makeDue(2)
    const earlier = await clear(one, 'owner', { reason: 'Yesterday it was fine.', on: rack.day(-1) })
    expect(earlier.status).toBe(201)
    expect((await sell(one, 'counter')).body.type).toBe('/problems/not-cleared')
    const made = await as('keeper', (tx, workspace) =>
      createClearance(
        tx,
        { scope: scopes.keeper, workspace },
        { individual: String(one?.id), reason: 'Agreed.' },
      ),
    )
    expect((await sell(other, 'counter')).body.type).toBe('/problems/not-cleared')
    const back = { clearance: made.id, version: 1 }
    await as('keeper', (tx, workspace) => archiveClearance(tx, workspace, back))
    expect((await sell(one, 'counter')).body.type).toBe('/problems/not-cleared')
    const again = as('keeper', (tx, workspace) => archiveClearance(tx, workspace, back))
    await expect(again).rejects.toMatchObject({ code: 'stale' })
  })

  test.each([
    ['without a reason', { reason: ' ' }, 422],
    ['for a day that has not come', { reason: 'Soon.', on: '2199-01-01' }, 422],
  ])('says so %s in vain', async (_, body, status) => {
    const [nymph] = await makeDue()
    expect((await clear(nymph, 'owner', body)).status).toBe(status)
  })

  test('is neither the counter nor a viewer, and there has to be something to override', async () => {
    const [nymph] = await makeDue()
    for (const role of ['counter', 'viewer'] as const) expect((await clear(nymph, role)).status).toBe(403)
    const [free] = await makeNymphs(rack, {
      ...{ count: 1, hatchedOn: rack.day(-90), partedOn: rack.day(-29), moults: 7 },
      lastMoultOn: rack.day(-30),
    })
    await as('owner', (tx, { workspaceId }) =>
      tx.individual.update({
        where: { workspaceId_id: { workspaceId, id: String(free?.id) } },
        data: { adultSinceOn: new Date(`${rack.day(-30)}T00:00:00Z`) },
      }),
    )
    expect((await clear(free, 'owner')).status).toBe(409)
    await sell(nymph, 'owner')
    expect((await clear(nymph, 'owner')).status).toBe(409)
  })
})

describe('at a show', () => {
  async function openStall(nymph: Nymph | undefined) {
    const role = 'counter' as const
    const boxed = await as('owner', async (tx, workspace) => {
      const act = { scope: scopes.owner, workspace }
      const days = { packOn: rack.today, returnOn: rack.day(1) }
      const what = { name: 'Fair', ...days, count: 1, devices: 1, species: '', languages: ['en' as const] }
      const { value } = await createShowBox(tx, act, what)
      const box = await requireShowBox(tx, workspace.workspaceId, value.id)
      await recordBoxedAnimals(tx, act, { box: box.id, version: box.version, labels: String(nymph?.label) })
      return requireShowBox(tx, workspace.workspaceId, value.id)
    })
    const device = randomUUID()
    const kept = await as(role, async (tx, workspace) => {
      const act = { scope: scopes[role], workspace }
      await recordPartTaken(tx, act, { box: boxed.id, part: 1, device })
      return loadStallPart(tx, act, { box: boxed.id, part: 1, person: 'Counter' })
    })
    const send = (number: number, lines: object[]) =>
      recordStallReceipts({ personId: String(scopes[role].personId), scopes: [scopes[role]] }, [
        {
          ...{ id: randomUUID(), workspaceId: rack.owner.workspaceId, personId: scopes[role].personId },
          ...{ box: boxed.id, part: 1, series: kept.part.series, device, number, on: rack.today },
          ...{
            writtenAt: new Date().toISOString(),
            currency: 'EUR',
            taxIncluded: true,
            v: 1,
            animals: lines,
          },
        },
      ])
    return { kept, send }
  }
  const lineOf = (nymph: Nymph | undefined, more: object) => ({
    ...{ individual: nymph?.id, description: 'A', unitPriceMinor: 900, taxBasisPoints: 0, ...more },
  })

  test('the device says whom to ask, and a receipt against it is refused and taken once somebody has cleared it', async () => {
    const [nymph] = await makeDue()
    await makeFit(2)
    const { kept, send } = await openStall(nymph)
    const told = kept.animals.find(({ id }) => id === nymph?.id)?.advice[0]
    expect(told).toMatchObject({ may: false, codes: ['moult-expected'], whom: 'Ask a keeper or the owner' })
    const line = lineOf(nymph, { overrideReason: 'He insists.', against: told?.codes })
    const [refused] = await send(1, [line])
    expect(refused).toMatchObject({ status: 'refused', code: 'not-cleared' })
    await clear(nymph, 'keeper')
    const [taken] = await send(1, [line])
    expect(taken).toMatchObject({ status: 'applied' })
  })

  test('what came up after the receipt was written takes nothing back', async () => {
    const [nymph] = await makeDue()
    await makeFit(2)
    const { send } = await openStall(nymph)
    const [taken] = await send(1, [lineOf(nymph, { against: [] })])
    expect(taken).toMatchObject({ status: 'applied' })
  })

  test('its stage is known beforehand, whatever a device leaves out', async () => {
    const [hatchling] = await makeNymphs(rack, {
      ...{ count: 1, hatchedOn: rack.day(-12), partedOn: rack.day(-9), moults: 0, lastMoultOn: null },
    })
    await makeFit(2)
    const { send } = await openStall(hatchling)
    expect((await send(1, [lineOf(hatchling, {})]))[0]).toMatchObject({
      status: 'refused',
      code: 'not-cleared',
    })
  })
})
