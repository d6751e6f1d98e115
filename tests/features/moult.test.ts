import { beforeAll, describe, expect, test } from 'vitest'
import { GET as getForecast } from '@/app/api/v1/individuals/[id]/forecast/route'
import { POST as postMoult } from '@/app/api/v1/individuals/[id]/moults/route'
import { POST as postMoults } from '@/app/api/v1/moults/route'
import { requireIndividual } from '@/lib/features/individual/data'
import { archiveMoult } from '@/lib/features/moult/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Moult room')
  other = await makeRack('Neighbour')
})

async function makeOne(brood: {
  hatched: number
  parted?: number
  moults?: number
  last?: number
}): Promise<Nymph> {
  const [nymph] = await makeNymphs(rack, {
    count: 1,
    hatchedOn: rack.day(brood.hatched),
    partedOn: rack.day(brood.parted ?? brood.hatched),
    moults: brood.moults ?? 0,
    lastMoultOn: brood.last === undefined ? null : rack.day(brood.last),
  })
  if (!nymph) throw new Error('no nymph')
  return nymph
}

const moult = (nymph: Nymph, body: unknown, token = rack.token) =>
  callApi(postMoult, { token, params: { id: nymph.id }, body })

describe('a moult', () => {
  test('is counted on from what the animal had behind it when its record began', async () => {
    const nymph = await makeOne({ hatched: -30, parted: -14, moults: 2, last: -15 })
    const answer = await moult(nymph, { on: rack.day(-3), outcome: 'good' })
    expect(answer.status).toBe(201)
    expect(answer.body.moult).toMatchObject({ number: 3, on: rack.day(-3), seenBetween: null })
    expect(answer.body.individual).toMatchObject({ moults: 3, instar: 4, stage: '4th instar' })
  })

  test('noticed late carries the day it was last seen without a skin', async () => {
    const nymph = await makeOne({ hatched: -30, parted: -20 })
    const seenBetween = { from: rack.day(-6), until: rack.day(-2) }
    const answer = await moult(nymph, { seenBetween })
    expect(answer.body.moult).toMatchObject({ on: rack.day(-2), seenBetween })
  })

  test.each([
    { what: 'in the future', when: { on: 1 }, path: 'on', message: /future/ },
    { what: 'before it hatched', when: { on: -31 }, path: 'on', message: /before it hatched/ },
    { what: 'before its own record begins', when: { on: -25 }, path: 'on', message: /before its own record/ },
    { what: 'before its last moult', when: { on: -6 }, path: 'on', message: /before its last moult/ },
    { what: 'twice on one day', when: { on: -5 }, path: 'on', message: /once a day/ },
    { what: 'noticed too early', when: { from: -1, until: -2 }, path: 'seenBetween', message: /ends before/ },
    {
      what: 'spanning its last moult',
      when: { from: -8, until: -2 },
      path: 'seenBetween',
      message: /begins before/,
    },
  ])('$what is refused at its field, and nothing is kept', async ({ when, path, message }) => {
    const nymph = await makeOne({ hatched: -30, parted: -20 })
    await moult(nymph, { on: rack.day(-5) })
    const body =
      when.from === undefined
        ? { on: rack.day(when.on) }
        : { seenBetween: { from: rack.day(when.from), until: rack.day(when.until) } }
    const answer = await moult(nymph, body)
    expect(answer.status).toBe(422)
    expect(answer.body.errors).toEqual([{ path, message: expect.stringMatching(message) }])
    const kept = await within(rack.owner, (tx, { workspaceId }) =>
      requireIndividual(tx, workspaceId, nymph.id),
    )
    expect(kept.moults.map(({ on }) => on)).toEqual([rack.day(-5)])
  })

  test('needs a day or a span, and no field the service does not know', async () => {
    const nymph = await makeOne({ hatched: -30 })
    expect((await moult(nymph, { outcome: 'good' })).body.errors).toMatchObject([{ path: 'on' }])
    const unknown = await moult(nymph, { on: rack.day(-1), instar: 4 })
    expect(unknown.body.errors).toEqual([{ path: 'instar', message: 'is not known here' }])
    expect((await moult(nymph, { on: '2026-02-30' })).status).toBe(422)
  })

  test('that is the final one makes it adult, after which there is no other', async () => {
    const nymph = await makeOne({ hatched: -120, parted: -20, moults: 5, last: -21 })
    const answer = await moult(nymph, { on: rack.day(-4), final: true })
    expect(answer.body.individual).toMatchObject({ isAdult: true, instar: null, adultSinceOn: rack.day(-4) })
    expect((await moult(nymph, { on: rack.day(-1) })).body.errors[0].message).toMatch(/adults do not moult/)
  })

  test('of an animal of another workspace is an animal that is not there', async () => {
    const nymph = await makeOne({ hatched: -30 })
    const answer = await moult(nymph, { on: rack.day(-1) }, other.token)
    expect(answer.status).toBe(404)
  })

  test('may not be recorded at the counter', async () => {
    const nymph = await makeOne({ hatched: -30 })
    const counter = await makeToken(rack.owner, 'counter')
    expect((await moult(nymph, { on: rack.day(-1) }, counter)).status).toBe(403)
  })
})

describe('many moults in one entry', () => {
  test('are kept all or none, with each mistake at its own line', async () => {
    const nymphs = await makeNymphs(rack, { count: 3, hatchedOn: rack.day(-20) })
    const [a, b, c] = nymphs.map(({ id }) => id)
    const send = (moults: unknown) => callApi(postMoults, { token: rack.token, body: { moults } })
    const refused = await send([
      { individual: a, on: rack.day(-2) },
      { individual: b, on: rack.day(2) },
      { individual: c, on: rack.day(-40) },
    ])
    expect(refused.status).toBe(422)
    expect(refused.body.errors.map(({ path }: { path: string }) => path)).toEqual([
      'moults.1.on',
      'moults.2.on',
    ])
    const first = await within(rack.owner, (tx, { workspaceId }) =>
      requireIndividual(tx, workspaceId, String(a)),
    )
    expect(first.moults).toEqual([])
    const recorded = await send([a, b, c].map((individual) => ({ individual, on: rack.day(-2) })))
    expect(recorded.body.moults).toHaveLength(3)
  })

  test('of one animal count in the order given, and never two on a day', async () => {
    const nymph = await makeOne({ hatched: -40 })
    const two = [rack.day(-20), rack.day(-8)].map((on) => ({ individual: nymph.id, on }))
    const answer = await callApi(postMoults, { token: rack.token, body: { moults: two } })
    expect(answer.body.moults.map(({ number }: { number: number }) => number)).toEqual([1, 2])
    const same = [rack.day(-1), rack.day(-1)].map((on) => ({ individual: nymph.id, on }))
    const refused = await callApi(postMoults, { token: rack.token, body: { moults: same } })
    expect(refused.body.errors).toMatchObject([{ path: 'moults.1.on' }])
  })

  test('sent eight times at once are recorded once each', async () => {
    const nymph = await makeOne({ hatched: -40 })
    const answers = await Promise.all(Array.from({ length: 8 }, () => moult(nymph, { on: rack.day(-1) })))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(422)])
  })
})

describe('the last moult', () => {
  test('can be taken back, with the adulthood it brought, but no earlier one', async () => {
    const nymph = await makeOne({ hatched: -120, parted: -60, moults: 4, last: -61 })
    const first = await moult(nymph, { on: rack.day(-40) })
    const last = await moult(nymph, { on: rack.day(-10), final: true })
    const archive = (id: string, version = 1) =>
      within(rack.owner, (tx, workspace) => archiveMoult(tx, workspace, { moult: id, version }))
    await expect(archive(first.body.moult.id)).rejects.toMatchObject({ code: 'stale' })
    await expect(archive(last.body.moult.id, 7)).rejects.toMatchObject({ code: 'stale' })
    await archive(last.body.moult.id)
    const animal = await within(rack.owner, (tx, { workspaceId }) =>
      requireIndividual(tx, workspaceId, nymph.id),
    )
    expect(animal).toMatchObject({ adultSinceOn: null, moults: [{ on: rack.day(-40) }] })
    expect((await moult(nymph, { on: rack.day(-9) })).body.moult.number).toBe(6)
  })

  test('of another workspace is not there to be taken back', async () => {
    const nymph = await makeOne({ hatched: -30 })
    const { body } = await moult(nymph, { on: rack.day(-1) })
    const attempt = within(other.owner, (tx, workspace) =>
      archiveMoult(tx, workspace, { moult: body.moult.id, version: 1 }),
    )
    await expect(attempt).rejects.toMatchObject({ code: 'not-found' })
  })
})

describe('the forecast of the next moult', () => {
  const forecast = (nymph: Nymph, asOf?: string) =>
    callApi(getForecast, {
      token: rack.token,
      params: { id: nymph.id },
      query: asOf ? `?asOf=${asOf}` : '',
    })

  test('is a window with its likeliest day inside, and moves on when a moult is recorded', async () => {
    const nymph = await makeOne({ hatched: -12 })
    const before = (await forecast(nymph)).body
    expect(before.nextMoult.p10 <= before.nextMoult.p50 && before.nextMoult.p50 <= before.nextMoult.p90).toBe(
      true,
    )
    expect(before.nextMoult.reason).toMatch(/^Hatched on/)
    await moult(nymph, { on: rack.day(-1) })
    const after = (await forecast(nymph)).body
    expect(after.nextMoult.p50 > before.nextMoult.p50).toBe(true)
    expect(after).toMatchObject({ moults: 1, state: 'soft', softUntil: rack.day(1) })
  })

  test('as of an earlier day knows nothing of what was noticed later, even when the span began before', async () => {
    const nymph = await makeOne({ hatched: -30 })
    const asKnown = (await forecast(nymph, rack.day(-4))).body
    await moult(nymph, { seenBetween: { from: rack.day(-9), until: rack.day(-3) } })
    expect((await forecast(nymph, rack.day(-4))).body).toEqual(asKnown)
    expect((await forecast(nymph, rack.day(-3))).body.moults).toBe(1)
    expect((await forecast(nymph, rack.day(3))).status).toBe(422)
  })

  test('says so where the last moult was never seen', async () => {
    const nymph = await makeOne({ hatched: -40, parted: -10, moults: 2 })
    expect((await forecast(nymph)).body.nextMoult.reason).toMatch(/was not seen/)
  })

  test('ends with the adult', async () => {
    const nymph = await makeOne({ hatched: -120, parted: -20, moults: 5, last: -21 })
    await moult(nymph, { on: rack.day(-10), final: true })
    expect((await forecast(nymph)).body).toMatchObject({
      isAdult: true,
      adultSinceOn: rack.day(-10),
      nextMoult: null,
      adult: null,
      state: 'adult',
    })
  })
})
