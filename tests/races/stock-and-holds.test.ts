import { afterAll, beforeAll, describe, expect, it } from 'vitest'
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
let buyers: string[]

beforeAll(async () => {
  rack = await makeRack('Stock race')
  nymphs = await makeNymphs(rack, { count: ROUNDS, hatchedOn: rack.day(-90), partedOn: rack.day(-60) })
  server = await startServer(database)
  racers = await makeRacers(server.address, rack)
  buyers = []
  for (let index = 0; index < EIGHT; index++) {
    const made = await racers.send(0, {
      path: '/buyers',
      body: { name: `Buyer ${index}`, keepConsent: true },
    })
    buyers.push(String(made.body.id))
  }
})
afterAll(() => server.stop())

/** Kinds of container of which just one is free. */
const makeLastBox = (name: string) =>
  within(rack.owner, (tx, { workspaceId }) =>
    tx.containerKind.create({
      data: {
        ...{ workspaceId, name, volumeMl: 500, innerHeightMm: 120, innerWidthMm: 80 },
        ...{ single: true, stock: 1 },
      },
      select: { id: true },
    }),
  )

describe(`eight tills that sell the last one of something (seed ${SEED})`, () => {
  it(`sell it once, ${ROUNDS} times over: seven are told that there are none left`, async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const { id } = await makeLastBox(`Box ${round}`)
      const stock = [{ kind: 'container', containerKind: id, quantity: 1 }]
      const answers = await racers.race(
        Array.from({ length: EIGHT }, () => ({ path: '/sales', body: { stock } })),
      )
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(
        `round ${round}: 201 × 1, 409 more-than-left × 7`,
      )
      const left = await within(rack.owner, (tx, { workspaceId }) =>
        tx.containerKind.findFirst({ where: { workspaceId, id }, select: { stock: true } }),
      )
      expect(left?.stock).toBe(0)
    }
  })
})

describe(`eight buyers for whom one animal is to be held (seed ${SEED})`, () => {
  it(`get it once, ${ROUNDS} times over: seven are told that it is held`, async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const individuals = [nymphs[round]?.id]
      const answers = await racers.race(
        buyers.map((buyer) => ({
          path: '/reservations',
          body: { buyer, individuals, until: rack.day(3) },
        })),
      )
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(
        `round ${round}: 201 × 1, 409 already-recorded × 7`,
      )
    }
  })
})
