import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack, readHeadCount } from '@/tests/support/rack'
import { startServer, type TestServer } from '@/tests/support/server'
import { countAnswers, EIGHT, makeRacers, type Racers, ROUNDS, SEED } from './racers'

const database = requireDatabase()
const SALES = 200

let server: TestServer
let rack: Rack
let racers: Racers
let nymphs: Nymph[]

beforeAll(async () => {
  rack = await makeRack('Race lane', 2000)
  nymphs = await makeNymphs(rack, {
    count: SALES + ROUNDS + 60,
    hatchedOn: rack.day(-120),
    partedOn: rack.day(-60),
  })
  server = await startServer(database)
  racers = await makeRacers(server.address, rack)
})
afterAll(() => server.stop())

const sale = (...animals: (Nymph | undefined)[]) => ({
  path: '/sales',
  body: {
    on: rack.today,
    individuals: animals.map((animal) => animal?.id),
    lines: animals.map((animal) => ({ individual: animal?.id, overrideReason: 'a race' })),
  },
})

async function listReceipts(): Promise<number[]> {
  const { rows } = await withClient(database.urls.admin, (client) =>
    client.query<{ number: number }>('select receipt_number as number from sale order by 1'),
  )
  return rows.map(({ number }) => number)
}

describe(`eight tills that sell one animal (seed ${SEED})`, () => {
  it(`sell it once, ${SALES} times over: one gets 201, seven are told that it has gone`, async () => {
    for (let round = 0; round < SALES; round++) {
      const answers = await racers.race(Array.from({ length: EIGHT }, () => sale(nymphs[round])))
      expect(`round ${round}: ${countAnswers(answers)}`).toBe(`round ${round}: 201 × 1, 409 already-gone × 7`)
      const loser = answers.find(({ status }) => status === 409)
      expect(loser?.body).toMatchObject({ title: 'Conflict', detail: expect.stringMatching(/sold|left/) })
    }
    const { sold, hatched, single } = await readHeadCount(rack, nymphs[0]?.clutchId ?? '')
    expect({ sold, single, hatched }).toEqual({
      sold: SALES,
      single: nymphs.length - SALES,
      hatched: nymphs.length,
    })
  })

  it('number the receipts without a gap, although most sales were refused', async () => {
    expect(await listReceipts()).toEqual(Array.from({ length: SALES }, (_, index) => index + 1))
  })

  it('take one sale back once: seven are told that it has been', async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const { body } = await racers.send(0, sale(nymphs[SALES + round]))
      const back = {
        path: `/sales/${body.id}/reversal`,
        body: { on: rack.today, reason: 'a race', containerKind: rack.cup, zone: rack.zone },
      }
      const answers = await racers.race(Array.from({ length: EIGHT }, () => back))
      expect(countAnswers(answers)).toBe('201 × 1, 409 already-reversed × 7')
    }
  })

  it('have one effect when they are one till that asked eight times with one key', async () => {
    for (let round = 0; round < 10; round++) {
      const once = { ...sale(nymphs[SALES + ROUNDS + round]), key: `round-${round}` }
      const answers = await Promise.all(Array.from({ length: EIGHT }, () => racers.send(0, once)))
      expect(countAnswers(answers)).toBe('201 × 8')
      expect(new Set(answers.map(({ body }) => body.id)).size).toBe(1)
    }
  })

  it('and handfuls that overlap never stand in each other’s way: each animal goes once, receipts stay gapless', async () => {
    const [from, count] = [SALES + ROUNDS + 10, 50]
    const before = (await listReceipts()).length
    const handfuls = Array.from({ length: count }, (_, index) => {
      const picked = [index, (index * 7 + 3) % count].map((offset) => nymphs[from + offset])
      return sale(...new Set(index % 2 ? picked : picked.reverse()))
    })
    const answers = (await racers.race(handfuls)) ?? []
    const won = answers.filter(({ status }) => status === 201)
    expect(answers.filter(({ status }) => status !== 201 && status !== 409).map(({ body }) => body)).toEqual(
      [],
    )
    expect(won.length).toBeGreaterThan(count / 4)
    const receipts = await listReceipts()
    expect(receipts).toEqual(Array.from({ length: before + won.length }, (_, index) => index + 1))
  })
})
