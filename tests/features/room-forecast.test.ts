import { beforeAll, describe, expect, test } from 'vitest'
import { createIndividuals } from '@/lib/features/individual/mutations'
import { newIndividualSchema } from '@/lib/features/individual/schema'
import { recordMoults } from '@/lib/features/moult/mutations'
import { loadRoomForecast, loadRoomGround } from '@/lib/features/room-forecast/data'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { within } from '@/tests/support/workspaces'

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
