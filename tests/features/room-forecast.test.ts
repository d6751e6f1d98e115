import { beforeAll, describe, expect, test } from 'vitest'
import { GET } from '@/app/api/v1/room-forecast/route'
import { createIndividuals } from '@/lib/features/individual/mutations'
import { newIndividualSchema } from '@/lib/features/individual/schema'
import { recordMoults } from '@/lib/features/moult/mutations'
import { loadRoomForecast, loadRoomGround } from '@/lib/features/room-forecast/data'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

const DAYS = 70
const groundOf = (rack: Rack, asOf?: string) =>
  within(rack.owner, (tx, workspace) => loadRoomGround(tx, workspace, { days: DAYS, asOf }))
const forecastOf = (rack: Rack, asOf?: string) =>
  within(rack.owner, (tx, workspace) => loadRoomForecast(tx, workspace, { days: DAYS, asOf }))

const buy = (rack: Rack, animal: object, count = 1) =>
  within(rack.owner, (tx, workspace) => {
    const typed = newIndividualSchema.parse({
      species: 'creobroter-spp',
      on: rack.day(-3),
      origin: 'bought',
      containerKind: rack.cup,
      zone: rack.zone,
      ...animal,
    })
    return createIndividuals(tx, { scope: rack.owner, workspace }, { animal: typed, count })
  })

describe('what stands in a room', () => {
  let rack: Rack
  beforeAll(async () => {
    rack = await makeRack('A full room')
    await makeNymphs(rack, {
      count: 12,
      hatchedOn: rack.day(-40),
      partedOn: rack.day(-30),
      moults: 2,
      lastMoultOn: rack.day(-31),
    })
    await makeClutch(rack, { count: 60, hatched: 6 })
    await makeEggCase(rack, { laid: 20 })
  })

  test('comes as animals with the same record, siblings together and egg cases to hatch', async () => {
    const { room, eggCaseLabels, leftOut } = await groundOf(rack)
    expect(room.animals).toHaveLength(1)
    expect(room.animals[0]).toMatchObject({ count: 12, moults: 2, isAdult: false, zoneId: rack.zone })
    // 31 days at 26 °C are a little more than 31 effective ones at the reference of 25 °C, or a little fewer above it.
    expect(room.animals[0]?.spentEffectiveDays).toBeGreaterThan(20)
    expect(room.groups).toMatchObject([{ count: 60, zoneId: rack.zone }])
    expect(room.eggCases).toHaveLength(1)
    expect(eggCaseLabels[0]).toMatch(/^E-/)
    expect(leftOut).toEqual({ animals: 0, eggCases: [] })
  })

  test('is forecast with the number that stands there today, and nymphs from the egg case later', async () => {
    const { forecast } = await forecastOf(rack)
    const living = (day: number) => forecast.series.reduce((sum, { mean }) => sum + mean[day]!, 0)
    expect(living(0)).toBeGreaterThan(71)
    expect(living(0)).toBeLessThan(73)
    const hatchlings = forecast.series.find(({ sex, moults }) => sex === 'unsexed' && moults === 0)
    expect(Math.max(...(hatchlings?.mean.slice(8) ?? []))).toBeGreaterThan(8)
    expect(forecast.days[0]).toBe(rack.day(0))
  })

  test('keeps apart what has moulted since, and counts it once', async () => {
    const own = await makeRack('One moult')
    const [first] = await makeNymphs(own, {
      count: 5,
      hatchedOn: own.day(-30),
      partedOn: own.day(-18),
      moults: 1,
      lastMoultOn: own.day(-19),
    })
    await within(own.owner, (tx, workspace) =>
      recordMoults(tx, workspace, [
        {
          individual: first?.id ?? '',
          on: own.day(-1),
          outcome: 'good',
          final: false,
          note: '',
          at: '',
          spanField: 'seenBetween',
        },
      ]),
    )
    const { room } = await groundOf(own)
    const counts = room.animals.map(({ moults, count }) => ({ moults, count }))
    expect(counts.sort((a, b) => a.moults - b.moults)).toEqual([
      { moults: 1, count: 4 },
      { moults: 2, count: 1 },
    ])
    const before = await groundOf(own, own.day(-2))
    expect(before.room.animals.map(({ moults, count }) => ({ moults, count }))).toEqual([
      { moults: 1, count: 5 },
    ])
  })

  test('leaves open when an animal moulted whom nobody saw moult', async () => {
    const own = await makeRack('Bought in')
    await buy(own, { instar: 4 }, 3)
    await buy(own, { adult: true, sex: 'female' })
    await buy(own, { instar: 3, lastMoultOn: own.day(-5) })
    const { room } = await groundOf(own)
    const spent = room.animals.map(({ isAdult, count, spentEffectiveDays }) => ({
      isAdult,
      count,
      isKnown: spentEffectiveDays !== null,
    }))
    expect(spent).toEqual(
      expect.arrayContaining([
        { isAdult: false, count: 3, isKnown: false },
        { isAdult: true, count: 1, isKnown: false },
        { isAdult: false, count: 1, isKnown: true },
      ]),
    )
  })

  test('of an earlier day is who was here then', async () => {
    const then = await groundOf(rack, rack.day(-7))
    expect(then.room.groups).toEqual([])
    expect(then.room.animals.map(({ count }) => count)).toEqual([12])
    const earlier = await groundOf(rack, rack.day(-31))
    expect(earlier.room.animals).toEqual([])
    expect(earlier.room.groups).toMatchObject([{ count: 12 }])
  })
})

type Item = { sex: string; moults: number | null; instar: number | null; animals: number; sd: number }
type Week = { week: string; until: string; items: Item[]; living: Item; ofSaleAge: Item }

describe('the room forecast of the API', () => {
  let rack: Rack
  const ask = (query = '', token = rack.token) => callApi(GET, { token, query })
  const weeksOf = ({ body }: { body: { weeks: Week[] } }) => body.weeks
  beforeAll(async () => {
    rack = await makeRack('Asked from outside')
    await makeNymphs(rack, {
      count: 20,
      hatchedOn: rack.day(-40),
      partedOn: rack.day(-30),
      moults: 1,
      lastMoultOn: rack.day(-32),
    })
    await makeEggCase(rack, { laid: 30 })
  })

  test('says per species, sex, instar and week how many are expected and how surely', async () => {
    const answer = await ask('?weeks=8')
    expect(answer.status).toBe(200)
    const weeks = weeksOf(answer)
    expect(weeks.map(({ week }) => week)).toEqual(Array.from({ length: 8 }, (_, week) => rack.day(7 * week)))
    expect(weeks[0]?.until).toBe(rack.day(6))
    expect(weeks[0]?.items[0]).toMatchObject({ species: expect.any(String), speciesSlug: 'creobroter-spp' })
    expect(weeks[0]?.items.every(({ instar, moults }) => moults === null || instar === moults + 1)).toBe(true)
    const last = weeks.at(-1)!
    const sum = last.items.reduce((total, { animals }) => total + animals, 0)
    expect(Math.abs(sum - last.living.animals)).toBeLessThan(0.1)
    // An egg case may hatch or not: nobody knows the number of the room to within a nymph or two.
    expect(last.living.sd).toBeGreaterThan(3)
    expect(last.ofSaleAge.animals).toBeLessThanOrEqual(last.living.animals + 1e-9)
  })

  test('reaches 52 weeks and no further', async () => {
    expect(weeksOf(await ask('?weeks=52'))).toHaveLength(52)
    expect((await ask('?weeks=53')).body.errors[0].path).toBe('weeks')
    expect((await ask(`?weeks=52&from=${rack.day(7)}`)).body.errors[0].path).toBe('weeks')
    expect((await ask('?weeks=0')).status).toBe(422)
    expect((await ask(`?from=${rack.day(14)}&weeks=4`)).body.from).toBe(rack.day(14))
  })

  test('of one species only where one is asked for', async () => {
    expect(weeksOf(await ask('?species=creobroter-spp&weeks=1'))[0]?.living.animals).toBeGreaterThan(15)
    expect(weeksOf(await ask('?species=tenodera-sinensis&weeks=1'))[0]?.living.animals).toBe(0)
    expect((await ask('?species=unicorn')).body.errors[0].path).toBe('species')
  })

  test('of an earlier day knows only what was recorded for that day or before', async () => {
    const then = await ask(`?asOf=${rack.day(-31)}&weeks=4`)
    expect(then.body).toMatchObject({ asOf: rack.day(-31), from: rack.day(-31) })
    expect(weeksOf(then)[0]?.living.animals).toBeLessThan(21)
    expect(
      weeksOf(then)[0]
        ?.items.filter(({ animals }) => animals > 0.5)
        .map(({ moults }) => moults),
    ).toEqual([0, 1, 2])
    expect((await ask(`?from=${rack.day(-31)}&weeks=4`)).body).toEqual(then.body)
    expect((await ask(`?asOf=${rack.day(-60)}&weeks=2`)).body.weeks[0].living.animals).toBe(0)
    expect((await ask(`?asOf=${rack.day(1)}`)).body.errors[0].path).toBe('asOf')
    expect((await ask(`?from=${rack.day(-10)}&asOf=${rack.day(-5)}`)).body.errors[0].path).toBe('from')
  })

  test('answers the same a second time, when parts of the first are still at hand', async () => {
    const first = await ask('?weeks=6')
    expect((await ask('?weeks=6')).body).toEqual(first.body)
    await makeClutch(rack, { count: 30, hatched: 3 })
    const more = weeksOf(await ask('?weeks=6'))[0]!.living.animals
    expect(more).toBeGreaterThan(weeksOf(first)[0]!.living.animals + 25)
  })

  test('is read by whoever may read animals', async () => {
    expect((await ask('', await makeToken(rack.owner, 'viewer'))).status).toBe(200)
    expect((await ask('', 'nobody')).status).toBe(401)
  })
})
