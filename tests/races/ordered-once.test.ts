import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { countAnswers, EIGHT, makeRacers, type Racers, ROUNDS, SEED } from './racers'

const database = requireDatabase()

let server: TestServer
let rack: Rack
let racers: Racers
let nymphs: Nymph[]

beforeAll(async () => {
  rack = await makeRack('Parcel race')
  nymphs = await makeNymphs(rack, { count: ROUNDS, hatchedOn: rack.day(-90), partedOn: rack.day(-60) })
  server = await startServer(database)
  racers = await makeRacers(server.address, rack)
})
afterAll(() => server.stop())

async function makeOrders(): Promise<string[]> {
  const made = []
  for (let index = 0; index < EIGHT; index++) {
    const body = { lines: [{ species: 'creobroter-spp', count: 1 }] }
    made.push(String((await racers.send(0, { path: '/orders', body })).body.id))
  }
  return made
}

describe(`eight orders that want one animal (seed ${SEED})`, () => {
  it(`give it to one of them, ${ROUNDS} times over: seven are told that it has gone`, async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const animals = [{ line: 1, individual: nymphs[round]?.id }]
      const orders = await makeOrders()
      const asked = orders.map((id) => ({ path: `/orders/${id}/animals`, body: { animals } }))
      const answers = await racers.race(asked)
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(`round ${round}: 201 × 1, 409 already-gone × 7`)
    }
  })
})
