import { beforeAll, describe, expect, test } from 'vitest'
import { POST } from '@/app/api/v1/clutches/[id]/separations/route'
import { isIndividualCode } from '@/lib/domain/label/code'
import { listContainerKinds } from '@/lib/features/container/data'
import { headCountOf, makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Separations')
  other = await makeRack('Another breeder')
})

const separate = (id: string, body: object, by = rack) =>
  callApi(POST, {
    token: by.token,
    params: { id },
    body: { on: rack.day(0), containerKind: rack.cup, ...body },
  })

describe('putting siblings apart', () => {
  test('makes animals with labels of their own, each in a cup, and the head count still sums', async () => {
    const id = await makeClutch(rack, { count: 60 })
    const answer = await separate(id, { count: 24 })
    expect(answer.status).toBe(201)
    const labels = answer.body.individuals.map(({ label }: { label: string }) => label)
    expect(new Set(labels).size).toBe(24)
    expect(labels.every(isIndividualCode)).toBe(true)
    const [first] = answer.body.individuals
    expect(first).toMatchObject({
      clutch: id,
      state: 'single',
      sex: 'unsexed',
      zone: rack.zone,
      containerKind: rack.cup,
    })
    expect(
      new Set(answer.body.individuals.map(({ container }: { container: string }) => container)).size,
    ).toBe(24)
    expect(answer.body.headCount).toMatchObject({ hatched: 60, together: 36, single: 24 })
    expect(await headCountOf(rack, id)).toMatchObject({ sums: true })
  })

  test('begins each record at the stage that is most likely that day, or as somebody saw it', async () => {
    const young = await separate(await makeClutch(rack, { count: 5, hatched: 1 }), { count: 1 })
    expect(young.body.individuals[0].moults).toBe(0)
    const older = await separate(await makeClutch(rack, { count: 5, hatched: 30 }), { count: 1 })
    expect(older.body.individuals[0].moults).toBeGreaterThan(0)
    const seen = await separate(await makeClutch(rack, { count: 5, hatched: 1 }), { count: 1, moults: 2 })
    expect(seen.body.individuals[0].moults).toBe(2)
  })

  test('without free cups is recorded with a warning, since it has been done', async () => {
    const poor = await makeRack('Few cups', 3)
    const id = await makeClutch(poor, { count: 10 })
    const answer = await callApi(POST, {
      token: poor.token,
      params: { id },
      body: { on: poor.day(0), count: 5, containerKind: poor.cup },
    })
    expect(answer.status).toBe(201)
    expect(answer.body.warnings.map(({ code }: { code: string }) => code)).toEqual(['no-free-container'])
    const [kind] = await within(poor.owner, (tx, { workspaceId }) => listContainerKinds(tx, workspaceId))
    expect(kind).toMatchObject({ inUse: 5, free: -2 })
  })

  test('of more than are left in a counted clutch is refused, and nothing of it is kept', async () => {
    const id = await makeClutch(rack, { count: 10 })
    const answer = await separate(id, { count: 11 })
    expect(answer.status).toBe(409)
    expect(answer.body.errors[0].path).toBe('count')
    expect(await headCountOf(rack, id)).toMatchObject({ together: 10, single: 0, sums: true })
    expect(
      await within(rack.owner, (tx, { workspaceId }) =>
        tx.individual.count({ where: { workspaceId, clutchId: id } }),
      ),
    ).toBe(0)
  })

  test('of more than the likely number of an "about" raises the count', async () => {
    const id = await makeClutch(rack, { about: { low: 5, likely: 8, high: 12 } })
    const answer = await separate(id, { count: 11 })
    expect(answer.status).toBe(201)
    expect(answer.body.headCount).toMatchObject({ hatched: 11, together: 0, single: 11 })
    expect((await separate(id, { count: 5 })).status).toBe(409)
  })

  test('tomorrow, before the hatch, into another breeder’s cup or zone, or by the counter is refused', async () => {
    const id = await makeClutch(rack, { count: 10, hatched: 5 })
    expect((await separate(id, { count: 1, on: rack.day(1) })).body.errors[0].path).toBe('on')
    expect((await separate(id, { count: 1, on: rack.day(-6) })).body.errors[0].path).toBe('on')
    expect((await separate(id, { count: 1, containerKind: other.cup })).status).toBe(404)
    expect((await separate(id, { count: 1, zone: other.zone })).status).toBe(404)
    expect((await separate(id, { count: 1 }, other)).status).toBe(404)
    const token = await makeToken(rack.owner, 'counter')
    expect((await separate(id, { count: 1 }, { ...rack, token })).status).toBe(403)
  })

  test('by eight at once never takes more than there are, and no label twice', async () => {
    const id = await makeClutch(rack, { count: 20 })
    const answers = await Promise.all(Array.from({ length: 8 }, () => separate(id, { count: 3 })))
    const made = answers.filter(({ status }) => status === 201).flatMap(({ body }) => body.individuals)
    expect(made).toHaveLength(18)
    expect(new Set(made.map(({ label }: { label: string }) => label)).size).toBe(18)
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(2)
    expect(await headCountOf(rack, id)).toMatchObject({ together: 2, single: 18, sums: true })
  })
})
