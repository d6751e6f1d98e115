import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack, readHeadCount } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { within } from '@/tests/support/workspaces'
import { countAnswers, EIGHT, makeRacers, type Racers, ROUNDS, SEED } from './racers'

const database = requireDatabase()

let server: TestServer
let rack: Rack
let racers: Racers
let nymphs: Nymph[]

beforeAll(async () => {
  rack = await makeRack('Housing lane', 5000)
  nymphs = await makeNymphs(rack, { count: EIGHT * 4, hatchedOn: rack.day(-90), partedOn: rack.day(-60) })
  server = await startServer(database)
  racers = await makeRacers(server.address, rack)
})
afterAll(() => server.stop())

async function makeEmptyCup(): Promise<string> {
  const { workspaceId } = rack.owner
  const data = { workspaceId, containerKindId: rack.cup, single: true }
  return (await within(rack.owner, (tx) => tx.container.create({ data }))).id
}

async function ask<T extends object>(sql: string, values: unknown[] = []): Promise<T[]> {
  return withClient(database.urls.admin, async (client) => (await client.query<T>(sql, values)).rows)
}

const listSharedCups = () =>
  ask(`select a.container_id from housing a join housing b on b.container_id = a.container_id and b.id > a.id
    where daterange(a.from_on, a.until_on) && daterange(b.from_on, b.until_on)`)

const listAnimalsInTwoCups = () =>
  ask(`select a.individual_id from housing a join housing b on b.individual_id = a.individual_id and b.id > a.id
    where daterange(a.from_on, a.until_on) && daterange(b.from_on, b.until_on)`)

describe(`eight moves at once (seed ${SEED})`, () => {
  it(`put one animal into an empty cup, ${ROUNDS} times over: seven are told that it is taken`, async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const cup = await makeEmptyCup()
      const group = nymphs.slice((round % 4) * EIGHT, (round % 4) * EIGHT + EIGHT)
      const on = rack.day(-50 + Math.floor(round / 4))
      const answers = await racers.race(
        group.map(({ id }) => ({
          path: `/individuals/${id}/moves`,
          body: { on, container: cup, zone: rack.zone },
        })),
      )
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(
        `round ${round}: 201 × 1, 409 container-taken × 7`,
      )
    }
    expect(await listSharedCups()).toEqual([])
    expect(await listAnimalsInTwoCups()).toEqual([])
  })

  it('of one animal into eight cups leave it in one of them', async () => {
    const [animal] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-90), partedOn: rack.day(-60) })
    for (let round = 0; round < ROUNDS; round++) {
      const cups = await Promise.all(Array.from({ length: EIGHT }, makeEmptyCup))
      const on = rack.day(-50 + Math.floor((round * 40) / ROUNDS))
      const answers = await racers.race(
        cups.map((container) => ({
          path: `/individuals/${animal?.id}/moves`,
          body: { on, container, zone: rack.zone },
        })),
      )
      // One move after the other is no conflict; none may be half done.
      expect(answers.filter(({ status }) => status !== 201 && status !== 409 && status !== 503)).toEqual([])
      const open = await ask('select id from housing where individual_id = $1 and until_on is null', [
        animal?.id,
      ])
      expect(open).toHaveLength(1)
    }
    expect(await listAnimalsInTwoCups()).toEqual([])
  })
})

describe(`eight who count one clutch (seed ${SEED})`, () => {
  it(`lose no more animals than are left, ${ROUNDS} times over`, async () => {
    const parted = await makeNymphs(rack, {
      count: 3 * ROUNDS,
      hatchedOn: rack.day(-80),
      partedOn: rack.day(-70),
    })
    const clutch = parted[0]?.clutchId ?? ''
    const { workspaceId } = rack.owner
    for (let round = 0; round < ROUNDS; round++) {
      const entry = { workspaceId, clutchId: clutch, from: 'uncounted', to: 'together', count: 3 } as const
      await within(rack.owner, (tx) =>
        tx.headCountEntry.create({ data: { ...entry, on: new Date(rack.day(-80)) } }),
      )
      const loss = {
        path: `/clutches/${clutch}/losses`,
        body: { on: rack.day(-5), count: 1, cause: 'unknown' },
      }
      const answers = await racers.race(Array.from({ length: EIGHT }, () => loss))
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(
        `round ${round}: 201 × 3, 409 more-than-left × 5`,
      )
    }
    const count = await readHeadCount(rack, clutch)
    expect(count).toMatchObject({ together: 0, dead: 3 * ROUNDS, hatched: 6 * ROUNDS })
  })

  it('part no more than there are: four get ten each of forty, four are told how it is', async () => {
    const [sibling] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-20), partedOn: rack.day(-10) })
    const clutch = sibling?.clutchId ?? ''
    const { workspaceId } = rack.owner
    const entry = { workspaceId, clutchId: clutch, from: 'uncounted', to: 'together', count: 40 } as const
    await within(rack.owner, (tx) =>
      tx.headCountEntry.create({ data: { ...entry, on: new Date(rack.day(-20)) } }),
    )
    const body = { on: rack.day(-2), count: 10, containerKind: rack.cup, zone: rack.zone }
    const answers = await racers.race(
      Array.from({ length: EIGHT }, () => ({ path: `/clutches/${clutch}/separations`, body })),
    )
    expect(countAnswers(answers)).toBe('201 × 4, 409 more-than-left × 4')
    const labels = answers.flatMap(
      ({ body: made }) => made.individuals?.map(({ label }: { label: string }) => label) ?? [],
    )
    expect(new Set(labels).size).toBe(40)
    expect(await readHeadCount(rack, clutch)).toMatchObject({ together: 0, single: 41, hatched: 41 })
  })
})
