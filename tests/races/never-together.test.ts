import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { makeClutch } from '@/tests/support/brood'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { within } from '@/tests/support/workspaces'
import { countAnswers, EIGHT, makeRacers, type Racers, ROUNDS, SEED } from './racers'

const database = requireDatabase()

let server: TestServer
let rack: Rack
let racers: Racers
let nymphs: Nymph[]
let clutches: string[]
let boxKind: string

beforeAll(async () => {
  rack = await makeRack('Box lane', 5000)
  nymphs = await makeNymphs(rack, { count: EIGHT / 2, hatchedOn: rack.day(-90), partedOn: rack.day(-60) })
  clutches = []
  for (let clutch = 0; clutch < EIGHT / 2; clutch += 1)
    clutches.push(await makeClutch(rack, { hatched: 60, count: 30 }))
  boxKind = await within(rack.owner, async (tx, { workspaceId }) => {
    const measures = { volumeMl: 12_000, innerHeightMm: 300, innerWidthMm: 200, single: false, stock: 500 }
    return (await tx.containerKind.create({ data: { workspaceId, name: 'Rearing box', ...measures } })).id
  })
  server = await startServer(database)
  racers = await makeRacers(server.address, rack)
})
afterAll(() => server.stop())

async function makeEmptyBox(): Promise<string> {
  const data = { workspaceId: rack.owner.workspaceId, containerKindId: boxKind, single: false }
  return (await within(rack.owner, (tx) => tx.container.create({ data }))).id
}

describe(`four clutches and four animals that want one box (seed ${SEED})`, () => {
  it(`leave it to one of them, ${ROUNDS} times over: seven are told that it is taken`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const container = await makeEmptyBox()
      const body = { on: rack.day(-50 + Math.floor((round * 40) / ROUNDS)), container, zone: rack.zone }
      const answers = await racers.race([
        ...nymphs.map(({ id }) => ({ path: `/individuals/${id}/moves`, body })),
        ...clutches.map((id) => ({ path: `/clutches/${id}/moves`, body })),
      ])
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(
        `round ${round}: 201 × 1, 409 container-taken × 7`,
      )
    }
    const shared = await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query(`select h.container_id from housing h
        join clutch_housing c on c.workspace_id = h.workspace_id and c.container_id = h.container_id
        where daterange(h.from_on, h.until_on) && daterange(c.from_on, c.until_on)`)
      return rows
    })
    expect(shared).toEqual([])
  })
})

describe(`eight clutches that want into one colony, four of them two instars older (seed ${SEED})`, () => {
  it('leave nobody inside who is more than one instar from another, and all of one size get in', async () => {
    const species = 'phyllocrania-paradoxa'
    const ghosts: string[] = []
    for (let clutch = 0; clutch < EIGHT; clutch += 1)
      ghosts.push(await makeClutch(rack, { species, hatched: 60, count: 5 }))
    const rounds = ROUNDS / 4
    for (let round = 0; round < rounds; round += 1) {
      const on = rack.day(-50 + Math.floor((round * 40) / rounds))
      const made = await racers.send(0, {
        path: '/colonies',
        body: { name: `Cage ${round}`, species, containerKind: boxKind, zone: rack.zone, on },
      })
      const { id } = made.body.colony
      const answers = await racers.race(
        ghosts.map((clutch, place) => {
          const moults = place % 2 === 0 ? 3 : 5
          return {
            path: `/colonies/${id}/entries`,
            body: { clutch, on, leastMoults: moults, mostMoults: moults },
          }
        }),
      )
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(
        `round ${round}: 201 × 4, 409 container-taken × 4`,
      )
    }
    const apart = await withClient(database.urls.admin, async (client) => {
      const { rows } = await client.query(`select colony_id from clutch_housing where colony_id is not null
        and (until_on is null or until_on > from_on) group by colony_id
        having max(most_moults) - min(least_moults) > 1`)
      return rows
    })
    expect(apart).toEqual([])
  })
})
