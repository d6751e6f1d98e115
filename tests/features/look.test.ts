import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postFeeding } from '@/app/api/v1/feedings/route'
import { GET as getForecast } from '@/app/api/v1/individuals/[id]/forecast/route'
import { POST as postMoult } from '@/app/api/v1/individuals/[id]/moults/route'
import { POST as postLooks } from '@/app/api/v1/looks/route'
import { listLastLooks } from '@/lib/features/look/data'
import { archiveSigns } from '@/lib/features/look/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Looking room')
})

async function makeOne(): Promise<Nymph> {
  const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-30), partedOn: rack.day(-20) })
  if (!nymph) throw new Error('no nymph')
  return nymph
}
const look = (nymphs: Nymph[], offset: number, token = rack.token) =>
  callApi(postLooks, { token, body: { on: rack.day(offset), individuals: nymphs.map(({ id }) => id) } })
const feed = (nymph: Nymph, offset: number, ate: boolean) =>
  callApi(postFeeding, { token: rack.token, body: { individuals: [nymph.id], on: rack.day(offset), ate } })
const moult = (nymph: Nymph, body: unknown) =>
  callApi(postMoult, { token: rack.token, params: { id: nymph.id }, body })
const lastLooks = (asOf?: string) =>
  within(rack.owner, (tx, { workspaceId }) => listLastLooks(tx, workspaceId, { asOf }))

describe('a look at a cup', () => {
  test('is the last day on which the animal is known to have been in its instar', async () => {
    const [seen, unseen] = [await makeOne(), await makeOne()]
    expect((await look([seen], -6)).body).toEqual({ recorded: 1, warnings: [] })
    await look([seen], -4)
    const looks = await lastLooks()
    expect(looks.get(seen.id)).toBe(rack.day(-4))
    expect(looks.has(unseen.id)).toBe(false)
    expect((await lastLooks(rack.day(-5))).get(seen.id)).toBe(rack.day(-6))
  })

  test('is also whoever fed it, and a refusal is a look like any other', async () => {
    const nymph = await makeOne()
    await look([nymph], -6)
    await feed(nymph, -5, true)
    await feed(nymph, -3, false)
    expect((await lastLooks()).get(nymph.id)).toBe(rack.day(-3))
  })

  test('twice on one day is one look', async () => {
    const nymph = await makeOne()
    await look([nymph], -2)
    expect((await look([nymph], -2)).status).toBe(201)
    const count = await within(rack.owner, (tx, { workspaceId }) =>
      tx.look.count({ where: { workspaceId, individualId: nymph.id } }),
    )
    expect(count).toBe(1)
  })

  test('cannot lie in the future, before the record, or be recorded at the counter', async () => {
    const nymph = await makeOne()
    expect((await look([nymph], 1)).body.errors).toMatchObject([{ path: 'on', message: /future/ }])
    expect((await look([nymph], -21)).body.errors).toMatchObject([{ path: 'on', message: /record begins/ }])
    expect((await look([nymph], -1, await makeToken(rack.owner, 'counter'))).status).toBe(403)
    expect((await lastLooks()).has(nymph.id)).toBe(false)
  })
})

describe('the span in which a moult was noticed', () => {
  test('fills itself from the last look before it', async () => {
    const nymph = await makeOne()
    await look([nymph], -7)
    await feed(nymph, -4, true)
    const { body } = await moult(nymph, { on: rack.day(-1) })
    expect(body.moult.seenBetween).toEqual({ from: rack.day(-4), until: rack.day(-1) })
  })

  test('begins with the moult before, where nobody looked since', async () => {
    const nymph = await makeOne()
    await look([nymph], -14)
    await moult(nymph, { on: rack.day(-12), seenBetween: { from: rack.day(-14), until: rack.day(-12) } })
    await look([nymph], -12)
    const { body } = await moult(nymph, { on: rack.day(-3) })
    expect(body.moult.seenBetween).toEqual({ from: rack.day(-12), until: rack.day(-3) })
  })

  test('is the day itself where looks were not written down for long, or where it is typed so', async () => {
    const [old, exact] = [await makeOne(), await makeOne()]
    await look([old], -19)
    expect((await moult(old, { on: rack.day(-1) })).body.moult.seenBetween).toBeNull()
    await look([exact], -3)
    const seenBetween = { from: rack.day(-1), until: rack.day(-1) }
    expect((await moult(exact, { seenBetween })).body.moult.seenBetween).toEqual(seenBetween)
  })

  test('does not begin with a look on the day of the moult, which may have been the noticing', async () => {
    const nymph = await makeOne()
    await look([nymph], -5)
    await feed(nymph, -1, true)
    const { body } = await moult(nymph, { on: rack.day(-1) })
    expect(body.moult.seenBetween).toEqual({ from: rack.day(-5), until: rack.day(-1) })
  })
})

const forecastOf = async (nymph: Nymph, query = '') =>
  (await callApi(getForecast, { token: rack.token, params: { id: nymph.id }, query })).body
const show = (nymph: Nymph, on: string, signs: { wingBuds?: boolean; refusesFood?: boolean }) =>
  callApi(postLooks, { token: rack.token, body: { on, individuals: [nymph.id], ...signs } })
const archive = (nymph: Nymph, on: string) =>
  within(rack.owner, (tx, workspace) =>
    archiveSigns(tx, { scope: rack.owner, workspace }, { individual: nymph.id, on }),
  )

async function makeBig(): Promise<Nymph> {
  const [nymph] = await makeNymphs(rack, {
    count: 1,
    hatchedOn: rack.day(-80),
    partedOn: rack.day(-14),
    moults: 5,
    lastMoultOn: rack.day(-14),
  })
  if (!nymph) throw new Error('no nymph')
  return nymph
}

describe('what a look shows', () => {
  test('wing buds make the next moult the final one, from their day on and until they are taken back', async () => {
    const nymph = await makeBig()
    const before = await forecastOf(nymph)
    expect(before.nextMoult.chanceFinal).toBeLessThan(1)
    const { status, body } = await show(nymph, rack.day(-2), { wingBuds: true })
    expect([status, body]).toEqual([201, { recorded: 1, warnings: [] }])
    const after = await forecastOf(nymph)
    expect(after.nextMoult.chanceFinal).toBe(1)
    expect(after.nextMoult.reason).toMatch(/Wing buds were seen: its next moult is the final one\./)
    expect(after.adult.p50).toBe(after.nextMoult.p50)
    expect((await forecastOf(nymph, `?asOf=${rack.day(-3)}`)).nextMoult.chanceFinal).toBeLessThan(1)
    await archive(nymph, rack.day(-2))
    expect(await forecastOf(nymph)).toEqual(before)
    await expect(archive(nymph, rack.day(-2))).rejects.toThrow(/already taken back/)
  })

  test('food refused draws the moult nearer, until it eats again', async () => {
    const nymph = await makeBig()
    const before = await forecastOf(nymph)
    await show(nymph, rack.day(-1), { refusesFood: true })
    const after = await forecastOf(nymph)
    expect(after.nextMoult.p50 < before.nextMoult.p50).toBe(true)
    expect(after.nextMoult.reason).toMatch(/It refused food on .+, so a moult within days is likelier\./)
    expect(await forecastOf(nymph, `?asOf=${rack.day(-2)}`)).not.toMatchObject({
      nextMoult: { reason: expect.stringMatching(/refused/) },
    })
    await feed(nymph, 0, true)
    expect(await forecastOf(nymph)).toEqual(before)
  })

  test('refused at a feeding says the same', async () => {
    const nymph = await makeBig()
    const before = await forecastOf(nymph)
    await feed(nymph, -1, false)
    expect((await forecastOf(nymph)).nextMoult.p50 < before.nextMoult.p50).toBe(true)
  })

  test('twice on one day is one look with both', async () => {
    const nymph = await makeBig()
    await show(nymph, rack.day(-1), { refusesFood: true })
    await show(nymph, rack.day(-1), { wingBuds: true })
    await look([nymph], -1)
    const looks = await within(rack.owner, (tx, { workspaceId }) =>
      tx.look.findMany({ where: { workspaceId, individualId: nymph.id } }),
    )
    expect(looks).toMatchObject([{ wingBuds: true, refusesFood: true }])
  })

  test('is doubted where the stage is far too early, and refused of an adult, at the day', async () => {
    const early = await makeOne()
    const { status, body } = await show(early, rack.day(-1), { wingBuds: true })
    expect(status).toBe(201)
    expect(body.warnings).toMatchObject([{ code: 'early-wing-buds' }])
    const grown = await makeBig()
    await moult(grown, { on: rack.day(-1), final: true })
    const refused = await show(grown, rack.day(0), { wingBuds: true })
    expect([refused.status, refused.body.errors?.[0]?.path]).toEqual([422, 'on'])
    expect(refused.body.errors[0].message).toMatch(/it has wings, no buds/)
  })
})
