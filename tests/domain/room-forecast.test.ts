import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import { priorParameters } from '@/lib/domain/development/parameters'
import { seededStream } from '@/lib/domain/random/seeded'
import { forecastRoom, type RoomForecast } from '@/lib/domain/room-forecast/forecast'
import type { RoomInput } from '@/lib/domain/room-forecast/input'
import { addSpecies, speciesWeeks, spread } from '@/lib/domain/room-forecast/weeks'
import { saySaleable } from '@/lib/domain/room-forecast/wording'
import { profileOf, steady } from '../cases/profile'

const profile = profileOf('creobroter-spp')
const TODAY = '2026-11-01'

function room(changes: Partial<RoomInput> = {}): RoomInput {
  return {
    today: TODAY,
    days: 120,
    species: [{ id: 'creobroter', profile }],
    zones: [{ id: 'rack', history: steady(26) }],
    animals: [],
    groups: [],
    eggCases: [],
    sales: [],
    ...changes,
  }
}

function nymphs(count: number, changes: object = {}): RoomInput['animals'] {
  return Array.from({ length: count }, (_, index) => ({
    speciesId: 'creobroter',
    zoneId: 'rack',
    clutchId: `clutch ${index % 3}`,
    sex: 'female' as const,
    moults: 3,
    isAdult: false,
    spentEffectiveDays: 4,
    ...changes,
  }))
}

function countOn(
  forecast: RoomForecast,
  moults: number | null,
  day: number,
): { mean: number; variance: number } {
  const series = forecast.series.filter((one) => one.moults === moults)
  return {
    mean: series.reduce((sum, { mean }) => sum + mean[day]!, 0),
    variance: series.reduce((sum, { variance }) => sum + variance[day]!, 0),
  }
}

function livingOn(forecast: RoomForecast, day: number): number {
  return forecast.series.reduce((sum, { mean }) => sum + mean[day]!, 0)
}

describe('who is in the room', () => {
  it('knows all of a species better than its stages, which only trade animals', () => {
    const forecast = forecastRoom(room({ animals: nymphs(100), days: 40 }))
    const [total] = forecast.totals
    for (const day of [0, 12, 30]) {
      expect(total?.mean[day]).toBeCloseTo(livingOn(forecast, day), 4)
      const apart = forecast.series.reduce((sum, { variance }) => sum + variance[day]!, 0)
      expect(total?.variance[day]).toBeLessThanOrEqual(apart + 1e-6)
    }
    // Of a hundred nymphs about four die in thirty days: that is all nobody knows of their number.
    expect(Math.sqrt(total?.variance[30] ?? 0)).toBeLessThan(4)
  })

  it('takes planned sales out of the total as well', () => {
    const sale = {
      on: addDays(TODAY, 10),
      speciesId: 'creobroter',
      sex: 'female' as const,
      moults: 3,
      isAdult: false,
    }
    const forecast = forecastRoom(room({ animals: nymphs(60), sales: [{ ...sale, count: 15 }], days: 30 }))
    for (const day of [5, 15, 29])
      expect(forecast.totals[0]?.mean[day]).toBeCloseTo(livingOn(forecast, day), 4)
    expect(forecast.totals[0]?.mean[11]).toBeLessThan(47)
  })

  it('counts animals with one record as many as they are', () => {
    const apart = forecastRoom(room({ animals: nymphs(30, { clutchId: 'one' }), days: 30 }))
    const together = forecastRoom(room({ animals: nymphs(1, { clutchId: 'one', count: 30 }), days: 30 }))
    expect(together.series).toEqual(apart.series)
  })

  it('begins with those that stand there today, each in its own stage', () => {
    const forecast = forecastRoom(room({ animals: [...nymphs(30), ...nymphs(12, { moults: 5 })] }))
    expect(countOn(forecast, 3, 0).mean).toBeCloseTo(30, 6)
    expect(countOn(forecast, 5, 0).mean).toBeCloseTo(12, 6)
    expect(livingOn(forecast, 0)).toBeCloseTo(42, 6)
    expect(forecast.days[0]).toBe(TODAY)
    expect(forecast.days.at(-1)).toBe(addDays(TODAY, 119))
  })

  it('never grows without a hatch, and loses what the profile says to the adult', () => {
    const forecast = forecastRoom(room({ animals: nymphs(100), days: 150 }))
    let before = 101
    for (let day = 0; day < 150; day += 1) {
      const living = livingOn(forecast, day)
      expect(living).toBeLessThanOrEqual(before + 1e-6)
      before = living
    }
    // Instars after 3, 4, 5 moults at 0.96 and the last at 0.93, of which the first has 4 days behind it.
    const adult = countOn(forecast, null, 110).mean
    expect(adult).toBeGreaterThan(72)
    expect(adult).toBeLessThan(90)
  })

  it('agrees with nymphs played out one by one, in number and in spread', () => {
    const animals = nymphs(60)
    const forecast = forecastRoom(
      room({ animals, zones: [{ id: 'rack', history: steady(26), futureTemperatureSdC: 0 }] }),
    )
    const played = playedRooms(animals, 400)
    for (const day of [10, 20, 35, 50]) {
      for (const moults of [3, 4, 5, 6]) {
        const { mean, variance } = countOn(forecast, moults, day)
        const counts = played.map((stages) => stages[day]!.filter((stage) => stage === moults).length)
        const average = counts.reduce((sum, count) => sum + count, 0) / counts.length
        const spread = Math.sqrt(
          counts.reduce((sum, count) => sum + (count - average) ** 2, 0) / counts.length,
        )
        expect(Math.abs(mean - average), `moults ${moults}, day ${day}`).toBeLessThan(3)
        if (average > 5)
          expect(
            Math.abs(Math.log(Math.sqrt(variance) / spread)),
            `spread, moults ${moults}, day ${day}`,
          ).toBeLessThan(0.35)
      }
    }
  })

  it('is the same whatever the order of the animals', () => {
    const animals = [
      ...nymphs(20),
      ...nymphs(9, { moults: 4, sex: 'male' }),
      ...nymphs(7, { moults: 1, sex: 'unsexed' }),
    ]
    const there = forecastRoom(room({ animals }))
    const back = forecastRoom(room({ animals: [...animals].reverse() }))
    expect(back.series).toEqual(there.series)
  })

  it('counts siblings together by their age, wherever they are by now', () => {
    const group = {
      speciesId: 'creobroter',
      zoneId: 'rack',
      clutchId: 'one',
      count: 40,
      ageEffectiveDays: 15,
    }
    const forecast = forecastRoom(room({ groups: [group] }))
    expect(livingOn(forecast, 0)).toBeCloseTo(40, 1)
    expect(countOn(forecast, 1, 0).mean).toBeGreaterThan(20)
    expect(countOn(forecast, 0, 0).mean + countOn(forecast, 1, 0).mean).toBeGreaterThan(36)
  })

  it('expects the nymphs of an egg case, all or none of them', () => {
    const eggCase = {
      speciesId: 'creobroter',
      zoneId: 'rack',
      hatch: { laid: { kind: 'known' as const, on: addDays(TODAY, -30) }, fertileShare: 0.8 },
      nymphs: { mean: 30, variance: 100 },
    }
    const forecast = forecastRoom(room({ eggCases: [eggCase], days: 60 }))
    expect(livingOn(forecast, 0)).toBeLessThan(1)
    const young = [10, 15].map((day) => countOn(forecast, 0, day))
    const most = Math.max(...young.map(({ mean }) => mean))
    expect(most).toBeGreaterThan(10)
    expect(most).toBeLessThan(24)
    // Far more than if single nymphs hatched by themselves.
    expect(Math.max(...young.map(({ variance, mean }) => variance / mean))).toBeGreaterThan(5)
  })

  it('misses from the day of a sale on those that are sold, and what they would have become', () => {
    const animals = nymphs(40)
    const all = forecastRoom(room({ animals }))
    const sale = {
      on: addDays(TODAY, 3),
      speciesId: 'creobroter',
      sex: 'female' as const,
      moults: 3,
      isAdult: false,
      count: 10,
    }
    const left = forecastRoom(room({ animals, sales: [sale] }))
    expect(livingOn(left, 2)).toBeCloseTo(livingOn(all, 2), 9)
    expect(livingOn(all, 3) - livingOn(left, 3)).toBeGreaterThan(9)
    expect(livingOn(all, 3) - livingOn(left, 3)).toBeLessThan(10.01)
    const share = livingOn(left, 50) / livingOn(all, 50)
    expect(share).toBeGreaterThan(0.7)
    expect(share).toBeLessThan(0.82)
    const greedy = forecastRoom(room({ animals, sales: [{ ...sale, count: 1000 }] }))
    expect(greedy.series.every(({ mean }) => mean.every((count) => count >= 0))).toBe(true)
  })

  it('plays again only what a moult has changed, with the same answer as from the beginning', () => {
    const animals = [...nymphs(20), ...nymphs(20, { sex: 'male' })]
    const before = forecastRoom(room({ animals }))
    const moulted = animals.map((animal, index) =>
      index === 0 ? { ...animal, moults: 4, spentEffectiveDays: 0 } : animal,
    )
    const after = forecastRoom(room({ animals: moulted }), before)
    expect(after.series).toEqual(forecastRoom(room({ animals: moulted })).series)
    const kept = [...after.parts].filter(([key, part]) => before.parts.get(key) === part)
    expect(kept.length).toBe(after.parts.size - 1)
  })

  it('loses adults to age within their weeks', () => {
    const forecast = forecastRoom(
      room({ animals: nymphs(50, { moults: 7, isAdult: true, spentEffectiveDays: 0 }), days: 300 }),
    )
    const { min, max } = profile.keeping.adultLifeWeeks.female.value
    expect(countOn(forecast, null, min * 7).mean / 50).toBeGreaterThan(0.8)
    expect(countOn(forecast, null, min * 7).mean / 50).toBeLessThan(0.96)
    expect(countOn(forecast, null, Math.min(299, max * 7)).mean / 50).toBeLessThan(0.2)
    const unknown = forecastRoom(
      room({ animals: nymphs(50, { moults: 7, isAdult: true, spentEffectiveDays: null }) }),
    )
    expect(livingOn(unknown, 60)).toBeLessThan(livingOn(forecast, 60))
  })

  it('is wider where the temperature ahead is less certain', () => {
    const animals = nymphs(200)
    const spread = (sdC: number) => {
      const zones = [{ id: 'rack', history: steady(26), futureTemperatureSdC: sdC }]
      return countOn(forecastRoom(room({ animals, zones })), 5, 35).variance
    }
    expect(spread(3)).toBeGreaterThan(spread(0.5) * 1.02)
  })
})

/** Stage of each animal on each day, in many rooms drawn from the prior; -1 for the dead. */
function playedRooms(animals: RoomInput['animals'], rooms: number): number[][][] {
  const stream = seededStream('played rooms')
  const noise = priorParameters(profile).noiseLogSd
  return Array.from({ length: rooms }, () => {
    const species = stream.normal(0, 0.25)
    const clutches = [0, 1, 2].map(() => stream.normal(0, 0.12))
    const biases = Array.from({ length: 9 }, () => stream.normal(0, 0.1))
    const days = Array.from({ length: 61 }, () => [] as number[])
    animals.forEach((_, index) => {
      const shared = species + clutches[index % 3]!
      const stages = playedNymph({ stream, noise, shared, biases })
      stages.forEach((stage, day) => {
        days[day]!.push(stage)
      })
    })
    return days
  })
}

/** A female after three moults with four days behind her; drawn again until she has not moulted yet. */
function playedNymph(room: {
  stream: ReturnType<typeof seededStream>
  noise: number
  shared: number
  biases: number[]
}): number[] {
  const { stream, noise, biases } = room
  const draw = stream.uniform()
  const totalMoults = draw < 0.1 ? 6 : draw < 0.9 ? 7 : 8
  const own = room.shared + stream.normal(0, 0.08)
  const lengthOf = (moults: number) =>
    medianInstarDays(profile, { sex: 'female', totalMoults }, moults) *
    Math.exp(own + biases[moults]! + stream.normal(0, noise))
  let left = lengthOf(3) - 4
  while (left <= 0) left = lengthOf(3) - 4
  let moults = 3
  let ends = left
  let dies = Number.POSITIVE_INFINITY
  const survival = (stage: number) => (stage >= totalMoults - 1 ? 0.93 : 0.96)
  const dieIn = (from: number, length: number, stage: number) => {
    if (!stream.chance(survival(stage))) dies = Math.min(dies, from + stream.uniform() * length)
  }
  dieIn(-4, left + 4, 3)
  if (dies < 0) dies = Number.POSITIVE_INFINITY
  return Array.from({ length: 61 }, (_, day) => {
    while (day >= ends && moults < totalMoults) {
      moults += 1
      const length = lengthOf(moults)
      if (moults < totalMoults) dieIn(ends, length, moults)
      ends += length
    }
    if (day >= dies) return -1
    return moults >= totalMoults ? 99 : moults
  })
}

describe('the room by week', () => {
  const span = { from: TODAY, weeks: 6 }
  const ages = [{ id: 'creobroter', saleFromMoults: 2 }]

  it('splits all living animals into those here, by age, and those to hatch', () => {
    const eggCase = {
      speciesId: 'creobroter',
      zoneId: 'rack',
      hatch: { laid: { kind: 'known' as const, on: addDays(TODAY, -30) } },
      nymphs: { mean: 30, variance: 100 },
    }
    const forecast = forecastRoom(
      room({
        animals: [...nymphs(20), ...nymphs(8, { moults: 0, sex: 'unsexed' })],
        eggCases: [eggCase],
        days: 42,
      }),
    )
    const weeks = addSpecies(speciesWeeks(forecast, ages, span))
    expect(weeks).toHaveLength(6)
    for (const { living, adults, grownNymphs, young, toHatch } of weeks)
      expect(adults + grownNymphs + young + toHatch).toBeCloseTo(living.expected, 6)
    expect(weeks[0]?.young).toBeGreaterThan(7)
    expect(weeks[0]?.ofSaleAge.expected).toBeGreaterThan(19)
    expect(weeks[3]?.toHatch).toBeGreaterThan(10)
    expect(weeks.every(({ living }) => living.low <= living.expected && living.expected <= living.high)).toBe(
      true,
    )
  })

  it('says in words what can be sold in some weeks', () => {
    const forecast = forecastRoom(room({ animals: nymphs(8, { moults: 0, sex: 'unsexed' }), days: 42 }))
    const weeks = addSpecies(speciesWeeks(forecast, ages, span))
    expect(saySaleable(weeks, 5, TODAY)).toMatch(
      /^In 5 weeks, from 6 Dec, about \d \(\d to \d\) will be old enough to sell; now it is 0\.$/,
    )
    expect(saySaleable(weeks, 9, TODAY)).toBeNull()
  })

  it('reads a range off mean and variance as a gamma does', () => {
    // Gamma with shape 4 and mean 20: 10 % at 8.72, 90 % at 33.4.
    const { low, high } = spread(20, 100)
    expect(low).toBeCloseTo(8.72, 0)
    expect(high).toBeCloseTo(33.4, 0)
    expect(spread(0, 0)).toEqual({ expected: 0, sd: 0, low: 0, high: 0 })
  })
})
