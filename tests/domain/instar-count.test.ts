import { describe, expect, it } from 'vitest'
import {
  type InstarCountsOfSex,
  learnInstarCounts,
  withLearnedInstarCounts,
} from '@/lib/domain/development/instar-count'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { seededStream } from '@/lib/domain/random/seeded'
import { profileOf, steady } from '../cases/profile'

const hierodula = profileOf('hierodula-spp')
const history = steady(26)

type Sighting = Partial<DevelopmentRecord> & { moults: number }

function seen({ moults, ...changes }: Sighting, index: number): DevelopmentRecord {
  const on = '2026-11-01'
  return {
    animalId: `animal ${index}`,
    clutchId: `clutch ${index}`,
    sex: 'female',
    starts: [{ moults, earliestOn: on, latestOn: on }],
    runningOn: changes.isAdult ? null : on,
    isAdult: false,
    history,
    ...changes,
  }
}

const adultAfter = (moults: number, count = 1) =>
  Array.from({ length: count }, () => ({ moults, isAdult: true }))
const learnFrom = (sightings: Sighting[]) => learnInstarCounts(hierodula, sightings.map(seen))
const shareOf = ({ shares }: InstarCountsOfSex, totalMoults: number) =>
  shares.find((one) => one.totalMoults === totalMoults)?.share ?? 0
const sumOf = ({ shares }: InstarCountsOfSex) => shares.reduce((sum, { share }) => sum + share, 0)

describe('the number of instars, learned from own adults', () => {
  it('is that of the profile before an adult is on record', () => {
    const { male, female } = learnFrom([])
    for (const [sex, typical] of [
      [male, 7],
      [female, 8],
    ] as const) {
      expect(sex.adultsSeen).toBe(0)
      expect(sumOf(sex)).toBeCloseTo(1, 9)
      expect(shareOf(sex, typical)).toBeGreaterThan(0.75)
      expect(Math.abs(shareOf(sex, typical - 1) - 0.1)).toBeLessThan(0.02)
      expect(Math.abs(shareOf(sex, typical + 1) - 0.1)).toBeLessThan(0.02)
    }
  })

  it('moves to what own adults did, the further the more there are, and each sex by its own adults', () => {
    const some = learnFrom(adultAfter(9, 6))
    const many = learnFrom(adultAfter(9, 60))
    expect(shareOf(some.female, 9)).toBeGreaterThan(0.35)
    expect(shareOf(many.female, 9)).toBeGreaterThan(0.8)
    expect(many.female.adultsSeen).toBe(60)
    expect(many.male).toEqual(learnFrom([]).male)
    const spread = ({ shares }: InstarCountsOfSex) => shares.find((one) => one.totalMoults === 9)!.sd
    expect(spread(many.female)).toBeLessThan(spread(some.female))
  })

  it('is not taken in by the first adults of a generation, which are those with the fewest moults', () => {
    const early = adultAfter(7, 5)
    const adultsOnly = learnFrom(early)
    const withOthers = learnFrom([...early, ...Array.from({ length: 45 }, () => ({ moults: 7 }))])
    expect(shareOf(adultsOnly.female, 7)).toBeGreaterThan(0.3)
    expect(shareOf(withOthers.female, 7)).toBeLessThan(0.15)
  })

  it('finds the shares of animals played out one by one, with nymphs still on their way', () => {
    const stream = seededStream('instar counts')
    const truth = [0.25, 0.6, 0.15]
    const sightings = Array.from({ length: 600 }, () => {
      const draw = stream.uniform()
      const total = draw < truth[0]! ? 7 : draw < truth[0]! + truth[1]! ? 8 : 9
      const reached = stream.integer(4, 12)
      return reached >= total ? { moults: total, isAdult: true } : { moults: reached }
    })
    const { female } = learnFrom(sightings)
    truth.forEach((share, index) => {
      const found = female.shares.find(({ totalMoults }) => totalMoults === 7 + index)!
      expect(Math.abs(found.share - share), `${7 + index} moults`).toBeLessThan(3 * found.sd + 0.02)
      expect(found.sd).toBeLessThan(0.04)
    })
  })

  it('takes forty siblings for less than forty strangers', () => {
    const siblings = adultAfter(9, 40).map((one) => ({ ...one, clutchId: 'one clutch' }))
    const together = shareOf(learnFrom(siblings).female, 9)
    expect(together).toBeLessThan(shareOf(learnFrom(adultAfter(9, 40)).female, 9))
    expect(together).toBeGreaterThan(shareOf(learnFrom(adultAfter(9, 5)).female, 9))
    const counted = learnFrom([{ moults: 9, isAdult: true, count: 40, clutchId: 'one clutch' }])
    expect(shareOf(counted.female, 9)).toBeCloseTo(together, 9)
  })

  it('counts an unsexed nymph for the sex that so many moults leave open, and no adult of unknown sex', () => {
    const beyondMales = learnFrom(Array.from({ length: 30 }, () => ({ moults: 8, sex: 'unsexed' as const })))
    expect(shareOf(beyondMales.female, 9)).toBeGreaterThan(0.5)
    const unsure = learnFrom(adultAfter(7, 20).map((one) => ({ ...one, sex: 'unsexed' as const })))
    expect(unsure).toEqual(learnFrom([]))
  })

  it('finds a workspace whose animals take far more or fewer moults than the profile knows', () => {
    const { female } = learnFrom(adultAfter(5, 80))
    expect(shareOf(female, 5)).toBeGreaterThan(0.6)
    const wild = learnFrom([...adultAfter(2, 3), ...adultAfter(14, 3)])
    expect(sumOf(wild.female)).toBeCloseTo(1, 9)
  })

  it('says the same whatever the order of the rows', () => {
    const sightings = [...adultAfter(9, 7), ...adultAfter(8, 9), { moults: 7 }, { moults: 8 }]
    const records = sightings.map(seen)
    const there = learnInstarCounts(hierodula, records)
    const mixed = learnInstarCounts(hierodula, seededStream('rows').shuffle(records))
    mixed.female.shares.forEach(({ share }, index) => {
      expect(share).toBeCloseTo(there.female.shares[index]!.share, 12)
    })
  })
})

describe('a profile with learned numbers of instars', () => {
  it('has the likeliest as the usual one and no instar longer or shorter than before', () => {
    const learned = withLearnedInstarCounts(hierodula, learnFrom(adultAfter(9, 60)))
    const { value, source } = learned.growth.moultsToAdult.female
    expect(value.typical).toBe(9)
    expect(value.oneFewerShare + value.oneMoreShare).toBeLessThan(0.25)
    expect(source).toEqual({ kind: 'own', note: 'Learned from 60 own adults.' })
    for (const totalMoults of [8, 9, 10]) {
      for (let moults = 0; moults < totalMoults; moults += 1) {
        const course = { sex: 'female' as const, totalMoults }
        expect(medianInstarDays(learned, course, moults)).toBeCloseTo(
          medianInstarDays(hierodula, course, moults),
          9,
        )
      }
    }
  })

  it('leaves a sex without own adults as the profile says', () => {
    const learned = withLearnedInstarCounts(hierodula, learnFrom(adultAfter(9, 60)))
    expect(learned.growth.moultsToAdult.male).toBe(hierodula.growth.moultsToAdult.male)
    expect(learned.growth.daysToAdult.male).toBe(hierodula.growth.daysToAdult.male)
  })
})
