import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postFeedings } from '@/app/api/v1/feedings/route'
import { POST as postDeath } from '@/app/api/v1/individuals/[id]/deaths/route'
import { POST as postMove } from '@/app/api/v1/individuals/[id]/moves/route'
import { POST as postReturn } from '@/app/api/v1/individuals/[id]/returns/route'
import { GET as getIndividual } from '@/app/api/v1/individuals/[id]/route'
import { POST as postSexing } from '@/app/api/v1/individuals/[id]/sexings/route'
import { GET as listIndividuals, POST as postIndividual } from '@/app/api/v1/individuals/route'
import { formatCode, individualCode } from '@/lib/domain/label/code'
import { listContainerKinds } from '@/lib/features/container/data'
import { recordLeaving } from '@/lib/features/departure/mutations'
import { createIndividuals } from '@/lib/features/individual/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack, readHeadCount } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Animal room')
  other = await makeRack('Next door')
})

const to = (id: string, body: unknown, token = rack.token) => ({ token, params: { id }, body })
const place = () => ({ containerKind: rack.cup, zone: rack.zone })
const list = (query: string, token = rack.token) => callApi(listIndividuals, { token, query })
const inUse = async () => {
  const kinds = await within(rack.owner, (tx, { workspaceId }) => listContainerKinds(tx, workspaceId))
  return kinds.find(({ id }) => id === rack.cup)?.inUse ?? 0
}
const bought = () => ({
  species: 'hymenopus-coronatus',
  on: rack.day(-5),
  origin: 'bought',
  instar: 4,
  sex: 'female',
  supplier: 'A fair',
  ...place(),
})

describe('an animal from elsewhere', () => {
  test('gets a label, a cup and the instar as this workspace counts it', async () => {
    const { status, body } = await callApi(postIndividual, { token: rack.token, body: bought() })
    expect(status).toBe(201)
    expect(body).toMatchObject({
      moults: 3,
      instar: 4,
      sex: 'female',
      state: 'single',
      zone: rack.zone,
      clutch: null,
    })
    expect(body.label).toMatch(/^[A-Z][2-9][A-Z][2-9]{2}$/)
  })

  test('counts from the hatching skin where the workspace does so', async () => {
    const room = await makeRack('Second instar room')
    await within(room.owner, (tx, { workspaceId }) =>
      tx.workspace.update({ where: { workspaceId }, data: { instarConvention: 'hatchling_is_second' } }),
    )
    const places = { containerKind: room.cup, zone: room.zone }
    const second = await callApi(postIndividual, {
      token: room.token,
      body: { ...bought(), ...places, instar: 2 },
    })
    expect(second.body).toMatchObject({ moults: 0, instar: 2 })
    const first = await callApi(postIndividual, {
      token: room.token,
      body: { ...bought(), ...places, instar: 1 },
    })
    expect(first.body.errors).toMatchObject([{ path: 'instar' }])
  })

  test('comes as an adult without an instar', async () => {
    const body = { ...bought(), instar: undefined, adult: true, lastMoultOn: rack.day(-12), mated: true }
    const answer = await callApi(postIndividual, { token: rack.token, body })
    expect(answer.body).toMatchObject({
      isAdult: true,
      instar: null,
      adultSinceOn: rack.day(-12),
      mated: true,
    })
  })

  test.each([
    ['on', { on: '2999-01-01' }],
    ['lastMoultOn', { lastMoultOn: '2999-01-01' }],
    ['instar', { instar: undefined }],
    ['origin', { origin: 'bred' }],
  ])('with a wrong %s is refused there', async (path, wrong) => {
    const answer = await callApi(postIndividual, { token: rack.token, body: { ...bought(), ...wrong } })
    expect(answer.status).toBe(422)
    expect(answer.body.errors).toMatchObject([{ path }])
  })

  test('cannot be put into a cup or a zone of another workspace', async () => {
    for (const foreign of [{ containerKind: other.cup }, { zone: other.zone }]) {
      const answer = await callApi(postIndividual, { token: rack.token, body: { ...bought(), ...foreign } })
      expect(answer.status).toBe(404)
    }
  })

  test('in a lot of twelve takes twelve labels that follow one another in the series, and twelve cups', async () => {
    const before = await inUse()
    const made = await within(rack.owner, (tx, workspace) =>
      createIndividuals(
        tx,
        { scope: rack.owner, workspace },
        {
          count: 12,
          animal: { ...bought(), origin: 'bought', sex: 'unsexed', adult: false, notes: '', papers: [] },
        },
      ),
    )
    const key = await within(rack.owner, async (_, { labelKey }) => String(labelKey))
    const series = new Set(Array.from({ length: 60 }, (_, index) => individualCode(index + 1, key)))
    expect(made.value.every(({ label }) => series.has(label))).toBe(true)
    expect(new Set(made.value.map(({ label }) => label)).size).toBe(12)
    expect(await inUse()).toBe(before + 12)
  })

  test('is recorded although no cup was free, with a word about it', async () => {
    const room = await makeRack('Short of cups', 0)
    const body = { ...bought(), containerKind: room.cup, zone: room.zone }
    const answer = await callApi(postIndividual, { token: room.token, body })
    expect(answer.status).toBe(201)
    expect(answer.body.warnings).toMatchObject([{ code: 'no-free-container' }])
  })
})

describe('the list of animals', () => {
  test('is filtered by species, instar, sex, zone, state and the beginning of a label', async () => {
    const room = await makeRack('Listed')
    const [one, two] = await makeNymphs(room, { count: 2, hatchedOn: room.day(-30), moults: 2 })
    const [three] = await makeNymphs(room, {
      count: 1,
      hatchedOn: room.day(-9),
      species: 'tenodera-sinensis',
    })
    if (!one || !two || !three) throw new Error('three nymphs')
    await callApi(postDeath, to(two.id, { on: room.day(0), cause: 'bad_moult' }, room.token))
    await callApi(postSexing, to(three.id, { sex: 'male' }, room.token))
    const labels = async (query: string) =>
      (await list(query, room.token)).body.items.map(({ label }: { label: string }) => label)
    expect(await labels('')).toEqual([three.label, two.label, one.label])
    expect(await labels('?species=creobroter-spp&state=single')).toEqual([one.label])
    expect(await labels('?state=dead')).toEqual([two.label])
    expect(await labels('?instar=3')).toEqual([two.label, one.label])
    expect(await labels('?instar=adult')).toEqual([])
    expect(await labels('?sex=male')).toEqual([three.label])
    expect(await labels(`?zone=${room.zone}`)).toEqual([three.label, one.label])
    expect(await labels(`?label=${one.label.slice(0, 3).toLowerCase()}%20${one.label.slice(3)}`)).toEqual([
      one.label,
    ])
    expect(await labels('?species=no-such-species')).toEqual([])
    expect((await list('?weight=3', room.token)).status).toBe(422)
  })

  test('comes in pages that neither repeat nor skip an animal', async () => {
    const room = await makeRack('Paged')
    const nymphs = await makeNymphs(room, { count: 7, hatchedOn: room.day(-3) })
    const seen: string[] = []
    let cursor = ''
    do {
      const { body } = await list(`?limit=3${cursor && `&cursor=${cursor}`}`, room.token)
      seen.push(...body.items.map(({ id }: { id: string }) => id))
      cursor = body.nextCursor ?? ''
    } while (cursor)
    expect(seen).toEqual(nymphs.map(({ id }) => id).reverse())
  })

  test('and each animal in it belong to one workspace alone', async () => {
    const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-3) })
    const foreign = await list('', other.token)
    expect(foreign.body.items).toEqual([])
    const answer = await callApi(getIndividual, { token: other.token, params: { id: String(nymph?.id) } })
    expect(answer.status).toBe(404)
  })
})

describe('sexing', () => {
  test('is probable on a young nymph and certain on an old one, unless said otherwise', async () => {
    const [young] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-3) })
    const [old] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-90), moults: 6 })
    const early = await callApi(postSexing, to(String(young?.id), { sex: 'male' }))
    expect(early.body.individual).toMatchObject({ sex: 'male', sexCertainty: 'probable' })
    expect(early.body.warnings).toMatchObject([{ code: 'early-sexing' }])
    const late = await callApi(postSexing, to(String(old?.id), { sex: 'female' }))
    expect(late.body).toMatchObject({ individual: { sexCertainty: 'certain' }, warnings: [] })
  })

  test('over a version that someone else has changed is refused with what stands there', async () => {
    const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-3) })
    const call = { ...to(String(nymph?.id), { sex: 'male' }), headers: { 'if-match': '1' } }
    expect((await callApi(postSexing, call)).status).toBe(201)
    const stale = await callApi(postSexing, { ...call, body: { sex: 'female' } })
    expect(stale.status).toBe(409)
    expect(stale.body.present).toMatchObject({ sex: 'male', version: 2 })
  })
})

describe('a move', () => {
  test('ends the old stay, frees the old cup and takes a new one', async () => {
    const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-9) })
    const before = await inUse()
    const answer = await callApi(
      postMove,
      to(String(nymph?.id), { on: rack.day(-1), containerKind: rack.cup }),
    )
    expect(answer.status).toBe(201)
    expect(answer.body.individual.zone).toBe(rack.zone)
    expect(await inUse()).toBe(before)
    const twice = await callApi(
      postMove,
      to(String(nymph?.id), { on: rack.day(-1), containerKind: rack.cup }),
    )
    expect(twice.status).toBe(201)
    const early = await callApi(
      postMove,
      to(String(nymph?.id), { on: rack.day(-4), containerKind: rack.cup }),
    )
    expect(early.body.errors).toMatchObject([{ path: 'on', message: expect.stringMatching(/came into/) }])
  })

  test('into a cup that holds another animal is refused, also when eight try for the same empty one', async () => {
    const nymphs = await makeNymphs(rack, { count: 9, hatchedOn: rack.day(-9) })
    const [first, ...others] = nymphs
    const { body } = await callApi(getIndividual, { token: rack.token, params: { id: String(first?.id) } })
    const taken = to(String(others[0]?.id), { on: rack.day(-1), container: body.container })
    expect((await callApi(postMove, taken)).body.type).toBe('/problems/container-taken')
    await callApi(postDeath, to(String(first?.id), { on: rack.day(-2) }))
    const answers = await Promise.all(
      others.map(({ id }) => callApi(postMove, to(id, { on: rack.day(-1), container: body.container }))),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
  })

  test('needs a place of this workspace', async () => {
    const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-9) })
    const id = String(nymph?.id)
    expect((await callApi(postMove, to(id, { on: rack.day(-1) }))).status).toBe(422)
    expect((await callApi(postMove, to(id, { on: rack.day(-1), zone: other.zone }))).status).toBe(404)
    expect((await callApi(postMove, to(id, { on: rack.day(1), zone: rack.zone }))).status).toBe(422)
  })
})

describe('a death', () => {
  test('moves the head count, ends the stay and frees the cup', async () => {
    const [nymph] = await makeNymphs(rack, { count: 3, hatchedOn: rack.day(-9) })
    const before = await inUse()
    const counter = await makeToken(rack.owner, 'counter')
    const death = { on: rack.day(-1), cause: 'drowned' }
    const answer = await callApi(postDeath, to(String(nymph?.id), death, counter))
    expect(answer.body.individual).toMatchObject({ state: 'dead', container: null })
    expect(await inUse()).toBe(before - 1)
    const counted = await readHeadCount(rack, String(nymph?.clutchId))
    expect(counted).toMatchObject({ hatched: 3, together: 0, single: 2, dead: 1 })
  })

  test('happens once: the second one is told where the animal is', async () => {
    const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-9) })
    const death = to(String(nymph?.id), { on: rack.day(-1) })
    const answers = await Promise.all(Array.from({ length: 8 }, () => callApi(postDeath, death)))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)])
    const refused = answers.find(({ status }) => status === 409)
    expect(refused?.body.detail).toBe(
      `${formatCode(String(nymph?.label))} is recorded as dead (${refused?.body.detail.match(/\((.*)\)/)[1]}).`,
    )
  })

  test('cannot lie in the future, before the record begins or before a moult', async () => {
    const [nymph] = await makeNymphs(rack, {
      count: 1,
      hatchedOn: rack.day(-9),
      moults: 1,
      lastMoultOn: rack.day(-9),
    })
    for (const day of [1, -10]) {
      const answer = await callApi(postDeath, to(String(nymph?.id), { on: rack.day(day) }))
      expect(answer.body.errors).toMatchObject([{ path: 'on' }])
    }
  })

  test('entered by mistake is taken back, once, and the animal is housed again', async () => {
    const [nymph] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-9) })
    const id = String(nymph?.id)
    await callApi(postDeath, to(id, { on: rack.day(-2) }))
    const early = await callApi(postReturn, to(id, { on: rack.day(-3), ...place() }))
    expect(early.body.errors).toMatchObject([{ path: 'on' }])
    const back = await callApi(postReturn, to(id, { on: rack.day(-1), ...place() }))
    expect(back.body.individual).toMatchObject({ state: 'single', zone: rack.zone })
    expect((await callApi(postReturn, to(id, { on: rack.day(-1), ...place() }))).status).toBe(409)
    expect(await readHeadCount(rack, String(nymph?.clutchId))).toMatchObject({ single: 1, dead: 0 })
  })
})

describe('an escape', () => {
  test('is a leaving of its own, and the animal found again is back in the count', async () => {
    const [one, two] = await makeNymphs(rack, { count: 2, hatchedOn: rack.day(-9) })
    const ids = [String(one?.id), String(two?.id)]
    await within(rack.owner, (tx, workspace) =>
      recordLeaving(
        tx,
        { scope: rack.owner, workspace },
        { individuals: ids, on: rack.day(-3), to: 'escaped', cause: 'unknown', note: '' },
      ),
    )
    expect(await readHeadCount(rack, String(one?.clutchId))).toMatchObject({ single: 0, escaped: 2 })
    await callApi(postReturn, to(String(one?.id), { on: rack.day(-1), ...place() }))
    expect(await readHeadCount(rack, String(one?.clutchId))).toMatchObject({ single: 1, escaped: 1 })
  })
})

describe('a feeding', () => {
  test('is recorded for a whole shelf, and the last one stands on the animal', async () => {
    const nymphs = await makeNymphs(rack, { count: 3, hatchedOn: rack.day(-9) })
    const individuals = nymphs.map(({ id }) => id)
    const body = { individuals, on: rack.day(-1), ate: true, prey: 'hydei' }
    const answer = await callApi(postFeedings, { token: rack.token, body })
    expect(answer.body).toEqual({ recorded: 3 })
    const { body: fed } = await callApi(getIndividual, {
      token: rack.token,
      params: { id: String(individuals[0]) },
    })
    expect(fed.lastFedOn).toBe(rack.day(-1))
    const foreign = await callApi(postFeedings, { token: other.token, body })
    expect(foreign.status).toBe(404)
    const future = await callApi(postFeedings, { token: rack.token, body: { ...body, on: rack.day(1) } })
    expect(future.body.errors).toMatchObject([{ path: 'on' }])
  })
})
