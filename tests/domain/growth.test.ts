import { describe, expect, test } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { getProfileValue } from '@/lib/domain/care-profile/edit'
import { profileValuePaths } from '@/lib/domain/care-profile/value-path'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import { parametersOf } from '@/lib/domain/development/posterior'
import { sayDoubt } from '@/lib/domain/growth/doubt'
import { developmentRecords, type KeptAnimal, type KeptClutch } from '@/lib/domain/growth/evidence'
import { fitGrowth } from '@/lib/domain/growth/fit'
import { listOwnValues } from '@/lib/domain/growth/own-value'
import type { LivedRecord } from '@/lib/domain/individual/outlook'
import { remainingLifeOf } from '@/lib/domain/individual/remaining-life'

const TODAY = '2026-11-20'
const day = (offset: number) => addDays(TODAY, offset)
const found = DEFAULT_PROFILES.find(({ slug }) => slug === 'creobroter-spp')
if (!found) throw new Error('the profile is there')
const { profile } = found
const zones = new Map([['room', { setPoints: [{ from: '2026-01-01', dayC: 26, nightC: null }] }]])
const known = { zones, asOf: TODAY }
const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const

const kept = (more: Partial<KeptAnimal> = {}): KeptAnimal => ({
  id: 'a',
  clutchId: 'c',
  sex: 'unsexed',
  hatchedOn: day(-60),
  baselineOn: day(-60),
  baselineMoults: 0,
  baselineLastMoultOn: null,
  adultSinceOn: null,
  moults: [],
  stays: [{ zoneId: 'room', from: day(-60), until: null }],
  lastSeenOn: null,
  leftOn: null,
  diedMoulting: false,
  ...more,
})
const moult = (number: number, on: string, seenFrom: string | null = null) => ({
  number,
  on,
  seenFrom,
  outcome: 'good' as const,
  final: false,
  isConfirmed: false,
})
const clutch = (more: Partial<KeptClutch> = {}): KeptClutch => ({
  id: 'c',
  hatchedOn: day(-60),
  hatchedUntilOn: day(-60),
  together: 0,
  stays: [],
  sightings: [],
  ...more,
})
/** Twelve days at 26 °C, in the profile's own effective days. */
const medianOfTwelveDays = () => {
  const { lowerThresholdC, referenceC } = profile.growth
  return (12 * (26 - lowerThresholdC.value)) / (referenceC.value - lowerThresholdC.value)
}
const recordOf = (animal: KeptAnimal, asOf = TODAY) =>
  developmentRecords({ animals: [animal], clutches: [clutch()] }, { zones, asOf })[0]

describe('the evidence of an animal', () => {
  test('has its starts, a moult noticed late within its span, and the last look at what still runs', () => {
    const record = recordOf(
      kept({ moults: [moult(1, day(-47)), moult(2, day(-33), day(-36))], lastSeenOn: day(-25) }),
    )
    expect(record?.starts).toEqual([
      { moults: 0, earliestOn: day(-60), latestOn: day(-60) },
      { moults: 1, earliestOn: day(-47), latestOn: day(-47) },
      { moults: 2, earliestOn: day(-36), latestOn: day(-33) },
    ])
    expect(record?.runningOn).toBe(day(-25))
  })

  test('says nothing of days on which nobody looked, nor of those to come', () => {
    expect(recordOf(kept({ moults: [moult(1, day(-47))] }))?.runningOn).toBeNull()
    const asOf = recordOf(
      kept({ moults: [moult(1, day(-47)), moult(2, day(-33))], lastSeenOn: day(-48) }),
      day(-40),
    )
    expect(asOf?.starts).toHaveLength(2)
    expect(recordOf(kept(), day(-61))).toBeUndefined()
  })

  test('ends with the day it left, and in a bad moult the day before', () => {
    expect(recordOf(kept({ leftOn: day(-50) }))?.runningOn).toBe(day(-50))
    expect(recordOf(kept({ leftOn: day(-50), diedMoulting: true }))?.runningOn).toBe(day(-51))
  })

  test('begins with a hatch of any length, until it was parted and before its first moult', () => {
    const hatchOf = (animal: Partial<KeptAnimal>) =>
      developmentRecords(
        { animals: [kept(animal)], clutches: [clutch({ hatchedUntilOn: day(-38) })] },
        { zones, asOf: TODAY },
      )[0]?.starts[0]
    const late = { lastSeenOn: day(-2), baselineOn: day(-30) }
    expect(hatchOf(late)).toEqual({ moults: 0, earliestOn: day(-60), latestOn: day(-38) })
    expect(hatchOf({ ...late, baselineOn: day(-50) })?.latestOn).toBe(day(-50))
    expect(hatchOf({ ...late, moults: [moult(1, day(-44))] })?.latestOn).toBe(day(-45))
    const parted = { ...late, baselineMoults: 1, baselineLastMoultOn: day(-41) }
    expect(hatchOf(parted)?.latestOn).toBe(day(-42))
  })

  test('of one that came as an adult is none', () => {
    expect(recordOf(kept({ adultSinceOn: day(-60), baselineMoults: 7 }))).toBeUndefined()
  })

  test('of siblings counts once nobody is together, so that no word counts twice', () => {
    const sightings = [
      { on: day(-50), moulted: 'none' as const, number: 1, sizeGap: false, hunger: false },
      { on: day(-46), moulted: 'all' as const, number: 1, sizeGap: false, hunger: false },
    ]
    const of = (together: number) =>
      developmentRecords({ animals: [], clutches: [clutch({ together, sightings })] }, known)
    expect(of(20)).toEqual([])
    expect(of(0)[0]?.starts.at(-1)).toEqual({ moults: 1, earliestOn: day(-50), latestOn: day(-46) })
  })
})

describe('a fit', () => {
  const room = (slip: number) => {
    const animals = Array.from({ length: 12 }, (_, index) =>
      kept({
        id: `a${index}`,
        moults: [moult(1, day(-48)), moult(2, day(-36 + (index === 0 ? slip : 0))), moult(3, day(-24))],
        lastSeenOn: day(-20),
      }),
    )
    return fitGrowth(profile, { animals, clutches: [clutch()], eggCases: [] }, known)
  }

  test('points out the one date that does not fit, with the slip that explains it', () => {
    expect(room(0).doubts).toEqual([])
    const [doubt, ...others] = room(10).doubts
    expect(others).toEqual([])
    expect(doubt).toMatchObject({ animalId: 'a0', moults: 2, on: day(-26) })
    expect(doubt && Math.abs(daysBetween(day(-36), doubt.likelyOn ?? TODAY))).toBeLessThanOrEqual(3)
    expect(doubt && sayDoubt(doubt, '3rd instar', TODAY)).toMatch(
      /came after 22 days; about 1\d would be usual/,
    )
  })

  test('learns the first instar of siblings that hatched over three weeks, whose own day nobody knows', () => {
    const firstInstar = (hatchedUntilOn: string) => {
      const animals = Array.from({ length: 40 }, (_, index) => {
        const hatch = -60 + Math.round((index * 21) / 39)
        const moults = [1, 2, 3].map((number) => moult(number, day(hatch + 12 * number)))
        return kept({ id: `a${index}`, baselineOn: day(-30), moults: moults.filter(({ on }) => on <= TODAY) })
      })
      const hatched = clutch({ hatchedUntilOn })
      const { growth, development } = fitGrowth(
        profile,
        { animals, clutches: [hatched], eggCases: [] },
        known,
      )
      const { species, clutch: ofClutch, byInstar } = parametersOf(development, { clutchId: 'c' })
      const course = { sex: 'female' as const, totalMoults: growth.moultsToAdult.female.value.typical }
      const median = medianInstarDays({ ...profile, growth }, course, 0)
      return median * Math.exp(species + ofClutch + byInstar[0]!)
    }
    const truth = medianOfTwelveDays()
    const [whole, cut] = [firstInstar(day(-39)), firstInstar(day(-53))]
    expect(Math.abs(Math.log(whole / truth))).toBeLessThan(0.6 * Math.abs(Math.log(cut / truth)))
  })

  test('says what own records make of the values of the profile', () => {
    const own = listOwnValues(profile, room(0))
    const paths = new Set(profileValuePaths().map(({ path }) => path))
    expect(own.every(({ path }) => paths.has(path))).toBe(true)
    const days = own.find(({ path }) => path === 'growth.daysToAdult.female.value')
    expect(days).toMatchObject({ count: 36, of: 'moult' })
    expect(days!.low).toBeLessThan(days!.value)
    expect(days!.high).toBeGreaterThan(days!.value)
    // Every instar took twelve days at 26 °C, whatever the profile says.
    expect(days!.value).not.toBe(getProfileValue(profile, 'growth.daysToAdult.female.value'))
  })
})

describe('the life that is left', () => {
  const adult = (since: number, isSeen: boolean): LivedRecord => ({
    id: 'a',
    clutchId: null,
    sex: 'female',
    hatchedOn: null,
    baselineOn: day(since - (isSeen ? 5 : 0)),
    baselineMoults: 7,
    baselineLastMoultOn: null,
    adultSinceOn: day(since),
    moults: isSeen ? [{ number: 8, on: day(since), seenFrom: null, outcome: 'good', final: true }] : [],
    stays: [{ zoneId: 'room', from: day(since - 5), until: null }],
    clutchStays: [],
  })
  const asked = { profile, naming, zones, today: TODAY, learned: null }

  test('ends later for a younger adult, and sooner for one that came of unknown age', () => {
    const young = remainingLifeOf(adult(-5, true), asked)!
    const old = remainingLifeOf(adult(-90, true), asked)!
    const unknown = remainingLifeOf(adult(-5, false), asked)!
    expect(young.p50 > old.p50).toBe(true)
    expect(unknown.p50 < young.p50).toBe(true)
    for (const life of [young, old, unknown]) {
      expect(life.p10 <= life.p50 && life.p50 <= life.p90).toBe(true)
      const chances = life.chanceWithin.map(({ probability }) => probability)
      expect([...chances].sort((a, b) => a - b)).toEqual(chances)
    }
  })

  test('is not asked of a nymph', () => {
    expect(remainingLifeOf({ ...adult(-5, true), adultSinceOn: null, moults: [] }, asked)).toBeNull()
  })
})
