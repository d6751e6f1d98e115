import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postFeeding } from '@/app/api/v1/feedings/route'
import { POST as postMoult } from '@/app/api/v1/individuals/[id]/moults/route'
import { POST as postLooks } from '@/app/api/v1/looks/route'
import { listLastLooks } from '@/lib/features/look/data'
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
    expect((await look([seen], -6)).body).toEqual({ recorded: 1 })
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
