import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postObservation } from '@/app/api/v1/clutches/[id]/observations/route'
import { GET as getClutch } from '@/app/api/v1/clutches/[id]/route'
import { addDays } from '@/lib/domain/calendar/date'
import { requireClutch } from '@/lib/features/clutch/data'
import { archiveClutchObservation } from '@/lib/features/clutch-observation/mutations'
import { makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack, readHeadCount } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Hatching room')
  other = await makeRack('Neighbour')
})

const observe = (clutch: string, body: unknown, token = rack.token) =>
  callApi(postObservation, { token, params: { id: clutch }, body })
const load = (clutch: string, query = '') =>
  callApi(getClutch, { token: rack.token, params: { id: clutch }, query })
const list = (clutch: string) =>
  within(
    rack.owner,
    async (tx, { workspaceId }) => (await requireClutch(tx, workspaceId, { id: clutch })).sightings,
  )

describe('what is seen of a clutch', () => {
  test('earlier than expected brings its deadline forward, and is answered with it', async () => {
    const clutch = await makeClutch(rack, { hatched: 6 })
    const before = (await load(clutch)).body.separation
    const answer = await observe(clutch, { on: rack.day(-1), moulted: 'most' })
    expect(answer.status).toBe(201)
    expect(answer.body.observation).toMatchObject({ moulted: 'most', number: 1, sizeGap: false, dead: 0 })
    expect(answer.body.clutch.separation.dueOn < before.dueOn).toBe(true)
    expect((await load(clutch)).body.separation.dueOn).toBe(answer.body.clutch.separation.dueOn)
  })

  test('does not count for the days before it', async () => {
    const clutch = await makeClutch(rack, { hatched: 6 })
    const before = (await load(clutch, `?asOf=${rack.day(-2)}`)).body.separation
    await observe(clutch, { on: rack.day(-1), moulted: 'most' })
    expect((await load(clutch, `?asOf=${rack.day(-2)}`)).body.separation.dueOn).toBe(before.dueOn)
  })

  test('with two sizes side by side, or hungry, makes the clutch due', async () => {
    for (const sign of [{ sizeGap: true }, { hunger: true }]) {
      const clutch = await makeClutch(rack, { hatched: 3 })
      expect((await load(clutch)).body.separation.state).toBe('fine')
      const { body } = await observe(clutch, { on: rack.today, moulted: 'none', ...sign })
      expect(body.clutch.separation.state).not.toBe('fine')
      expect(body.clutch.separation.dueOn <= rack.today).toBe(true)
    }
  })

  test('of a moult that is near is kept and told', async () => {
    const clutch = await makeClutch(rack, { hatched: 6 })
    const signs = { hanging: 4, wingBuds: true, refusesFood: true }
    const { body, status } = await observe(clutch, { on: rack.today, moulted: 'none', ...signs })
    expect(status).toBe(201)
    expect(body.observation).toMatchObject(signs)
    expect(await list(clutch)).toMatchObject([signs])
    expect(body.clutch.separation.reasons.join(' ')).toMatch(/4 hung for a moult/)
    const { hanging } = (await load(clutch)).body
    expect(hanging).toMatchObject({ on: rack.today, count: 4 })
    expect(hanging.until > rack.today).toBe(true)
    expect((await load(clutch, `?asOf=${rack.day(-1)}`)).body.hanging).toBeNull()
    const refused = await observe(clutch, { on: rack.today, moulted: 'none', hanging: -1 })
    expect(refused.body.errors).toMatchObject([{ path: 'hanging' }])
  })

  test('dead takes them from the group in the same entry, all or none', async () => {
    const clutch = await makeClutch(rack, { hatched: 3, count: 20 })
    const { body } = await observe(clutch, { on: rack.today, moulted: 'none', dead: 3 })
    expect(body.clutch.headCount).toMatchObject({ together: 17, dead: 3, hatched: 20 })
    const refused = await observe(clutch, { on: rack.today, moulted: 'none', dead: 30 })
    expect(refused.status).toBe(409)
    expect(refused.body.errors).toMatchObject([{ path: 'dead' }])
    expect(await list(clutch)).toHaveLength(1)
    expect(await readHeadCount(rack, clutch)).toMatchObject({ together: 17, dead: 3 })
  })

  test('that hardly can be is recorded and asked about', async () => {
    const clutch = await makeClutch(rack, { hatched: 2 })
    const { body, status } = await observe(clutch, { on: rack.day(-1), moulted: 'all', number: 2 })
    expect(status).toBe(201)
    expect(body.warnings).toMatchObject([{ code: 'unlikely-observation' }])
  })

  test.each([
    { what: 'before they hatched', body: { on: -7, moulted: 'none' }, path: 'on', message: /hatched on/ },
    { what: 'in the future', body: { on: 1, moulted: 'none' }, path: 'on', message: /future/ },
    {
      what: 'of the 13th moult',
      body: { on: 0, moulted: 'none', number: 13 },
      path: 'number',
      message: /12/,
    },
    { what: 'without a share', body: { on: 0 }, path: 'moulted', message: /Choose/ },
    {
      what: 'with half an animal dead',
      body: { on: 0, moulted: 'none', dead: 0.5 },
      path: 'dead',
      message: /./,
    },
  ])('$what is refused at its field', async ({ body, path, message }) => {
    const clutch = await makeClutch(rack, { hatched: 6 })
    const answer = await observe(clutch, { ...body, on: addDays(rack.today, body.on) })
    expect(answer.status).toBe(422)
    expect(answer.body.errors).toEqual([{ path, message: expect.stringMatching(message) }])
    expect(await list(clutch)).toEqual([])
  })

  test('can be taken back once', async () => {
    const clutch = await makeClutch(rack, { hatched: 6 })
    const before = (await load(clutch)).body.separation.dueOn
    const { body } = await observe(clutch, { on: rack.day(-1), moulted: 'most' })
    const archive = (owner: Rack['owner']) =>
      within(owner, (tx, workspace) =>
        archiveClutchObservation(
          tx,
          { scope: owner, workspace },
          { observation: body.observation.id, version: 1 },
        ),
      )
    await expect(archive(other.owner)).rejects.toMatchObject({ code: 'not-found' })
    await archive(rack.owner)
    await expect(archive(rack.owner)).rejects.toMatchObject({ code: 'stale' })
    expect((await load(clutch)).body.separation.dueOn).toBe(before)
  })

  test('is no business of the counter, nor of a neighbour', async () => {
    const clutch = await makeClutch(rack, { hatched: 6 })
    const seen = { on: rack.today, moulted: 'none' }
    expect((await observe(clutch, seen, await makeToken(rack.owner, 'counter'))).status).toBe(403)
    expect((await observe(clutch, seen, other.token)).status).toBe(404)
  })
})
