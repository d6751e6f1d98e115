import { describe, expect, it } from 'vitest'
import { learnClutchCounts } from '@/lib/domain/development/clutch-moults'
import {
  type InstarCountsOfSex,
  learnInstarCounts,
  withLearnedInstarCounts,
} from '@/lib/domain/development/instar-count'
import { medianInstarDays, openCourses } from '@/lib/domain/development/instar-length'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'
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

/** Totals of siblings who are alike as the model has it: each draw pulls the next ones, a Pólya urn for each number. */
function drawSiblings(stream: SeededStream, count: number): number[] {
  const worth = 19
  const urns = [0.25, 0.8].map((chance) => ({ ended: worth * chance, went: worth * (1 - chance) }))
  return Array.from({ length: count }, () => {
    for (const [place, urn] of urns.entries()) {
      if (stream.uniform() < urn.ended / (urn.ended + urn.went)) {
        urn.ended += 1
        return 7 + place
      }
      urn.went += 1
    }
    return 9
  })
}

describe('siblings', () => {
  const budding = (total: number, clutchId: string): Sighting => ({
    moults: total - 1,
    hasWingBuds: true,
    clutchId,
  })
  const countsOf = (sightings: Sighting[]) => learnClutchCounts(hierodula, sightings.map(seen))

  it('with wing buds teach the workspace before any of them is adult', () => {
    const learned = learnFrom(Array.from({ length: 40 }, (_, index) => budding(9, `clutch ${index}`)))
    expect(learned.female).toMatchObject({ adultsSeen: 0, budsSeen: 40 })
    const { value, source } = withLearnedInstarCounts(hierodula, learned).growth.moultsToAdult.female
    expect(value.typical).toBe(9)
    expect(source).toEqual({ kind: 'own', note: 'Learned from 40 own nymphs with wing buds.' })
  })

  it('say something of those of their own clutch and sex, and of no other', () => {
    const counts = countsOf([
      ...Array.from({ length: 8 }, () => budding(9, 'late')),
      ...Array.from({ length: 8 }, () => ({ moults: 6, clutchId: 'late', sex: 'male' as const })),
      { moults: 6, clutchId: 'young' },
    ])
    expect(Object.keys(counts)).toEqual(['late'])
    const usual = hierodula.growth.moultsToAdult.female.value
    expect(counts.late!.female.oneMoreShare).toBeGreaterThan(usual.oneMoreShare + 0.15)
    expect(counts.late!.male.oneMoreShare).toBeLessThan(
      hierodula.growth.moultsToAdult.male.value.oneMoreShare + 0.06,
    )
    const courses = openCourses(hierodula, { sex: 'female', moults: 6, moultsToAdult: counts.late! })
    expect(courses.find(({ totalMoults }) => totalMoults === 9)!.weight).toBeGreaterThan(0.25)
  })

  it('who go on past the usual number say so too', () => {
    const [one] = Object.values(countsOf(Array.from({ length: 6 }, () => ({ moults: 8, clutchId: 'slow' }))))
    expect(one!.female.oneMoreShare).toBeGreaterThan(hierodula.growth.moultsToAdult.female.value.oneMoreShare)
  })

  it('foretell their sisters better than the workspace alone does, and than another clutch would', () => {
    const stream = seededStream('alike siblings')
    const clutches = Array.from({ length: 3000 }, (_, index) => ({
      id: `clutch ${index}`,
      totals: drawSiblings(stream, 14),
    }))
    // Ten of each show their wing buds, four are still on their way.
    const sightings = clutches.flatMap(({ id, totals }) =>
      totals.slice(0, 10).map((total) => budding(total, id)),
    )
    const workspace = withLearnedInstarCounts(hierodula, learnFrom(sightings)).growth.moultsToAdult.female
      .value
    const counts = countsOf(sightings)
    const chanceOf = ({ typical, oneFewerShare, oneMoreShare }: typeof workspace, total: number) => {
      if (total === typical) return 1 - oneFewerShare - oneMoreShare
      return Math.max(1e-3, total < typical ? oneFewerShare : oneMoreShare)
    }
    const score = (countFor: (index: number) => typeof workspace) => {
      const logs = clutches.flatMap(({ totals }, index) =>
        totals.slice(10).map((total) => Math.log(chanceOf(countFor(index), total))),
      )
      return logs.reduce((sum, log) => sum + log, 0) / logs.length
    }
    const own = score((index) => counts[`clutch ${index}`]?.female ?? workspace)
    const others = score((index) => counts[`clutch ${(index + 1) % 3000}`]?.female ?? workspace)
    expect(own).toBeGreaterThan(score(() => workspace) + 0.002)
    expect(own).toBeGreaterThan(others + 0.005)
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
