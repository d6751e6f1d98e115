import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bodyLengthMm } from '@/lib/domain/care-profile/body-length'
import { DEFAULT_PROFILES, type DefaultProfile } from '@/lib/domain/care-profile/defaults'
import {
  checkProfile,
  getProfileValue,
  getValueSource,
  updateProfileValue,
} from '@/lib/domain/care-profile/edit'
import type { MoultCount } from '@/lib/domain/care-profile/profile'
import { profileValuePaths } from '@/lib/domain/care-profile/value-path'
import { openCourses } from '@/lib/domain/development/instar-length'
import { profileOf } from '../cases/profile'
import { STAGMOMANTIS_MOULTS } from '../cases/published-series'
import { GROWTH_LINES, KEEPING_LINES } from '../cases/trade-table'

function range({ min, max }: { min: number; max: number }): string {
  return min === max ? `${min}` : `${min}–${max}`
}

function moults({ typical, oneMoreShare }: MoultCount): string {
  return oneMoreShare > 0.2 ? `${typical}–${typical + 1}` : `${typical}`
}

function growthLine({ scientificName, profile }: DefaultProfile): string {
  const { growth, breeding, hatch } = profile
  const { incubation, nymphs } = hatch
  const rest = { none: 'none', optional: 'optional', 'cold-strains': 'cold strains' }[
    hatch.coldRest.value.need
  ]
  return [
    scientificName,
    `${moults(growth.moultsToAdult.male.value)}/${moults(growth.moultsToAdult.female.value)}`,
    `${growth.daysToAdult.male.value}/${growth.daysToAdult.female.value}`,
    `${breeding.readyAfterDays.male.value}/${breeding.readyAfterDays.female.value}`,
    range(breeding.firstEggCaseDays.value),
    `${range(breeding.eggCases.value)} (${breeding.eggCases.value.intervalDays})`,
    `${nymphs.value.min}/${nymphs.value.typical}/${nymphs.value.max}`,
    `${incubation.value.minDays}–${incubation.value.maxDays} @ ${range({ min: incubation.value.minC, max: incubation.value.maxC })}`,
    rest,
  ].join(' | ')
}

function keepingLine({ scientificName, profile }: DefaultProfile): string {
  const { keeping, separation } = profile
  const length = keeping.bodyLengthMm.value
  return [
    scientificName,
    separation.apartAtMoults.value ?? 'colony',
    `${length.hatchling}/${length.adultMale}/${length.adultFemale}`,
    range(keeping.dayC.value),
    keeping.lowestNightC.value,
    range(keeping.humidityPct.value),
    `${range(keeping.adultLifeWeeks.male.value)}/${range(keeping.adultLifeWeeks.female.value)}`,
  ].join(' | ')
}

describe('the default care profiles', () => {
  it('carry every value of the table of growth and breeding', () => {
    expect(DEFAULT_PROFILES.map(growthLine)).toEqual(GROWTH_LINES)
  })

  it('carry every value of the table of keeping', () => {
    expect(DEFAULT_PROFILES.map(keepingLine)).toEqual(KEEPING_LINES)
  })

  it('have slugs of their scientific names, all different', () => {
    expect(new Set(DEFAULT_PROFILES.map(({ slug }) => slug)).size).toBe(19)
    expect(DEFAULT_PROFILES.map(({ slug }) => slug)).toContain('creobroter-spp')
  })

  it('have nothing wrong with them and survive being stored as JSON', () => {
    for (const { profile } of DEFAULT_PROFILES) {
      expect(checkProfile(profile)).toEqual([])
      expect(JSON.parse(JSON.stringify(profile))).toEqual(profile)
    }
  })

  it('never show a default of the trade as a citation', () => {
    const cited = DEFAULT_PROFILES.flatMap(({ slug, profile }) =>
      profileValuePaths()
        .filter(({ path }) => getValueSource(profile, path)?.kind === 'published')
        .map(({ path }) => `${slug} ${path.split('.').slice(0, 2).join('.')}`),
    )
    expect([...new Set(cited)]).toEqual(['stagmomantis-spp growth.moultsToAdult'])
    expect(profileOf('miomantis-spp').separation.tolerance.source.kind).toBe('published')
  })

  it('share out the number of instars of Stagmomantis as it was counted', () => {
    for (const sex of ['female', 'male'] as const) {
      const courses = openCourses(profileOf('stagmomantis-spp'), { sex, moults: 0 })
      expect(
        courses.map(({ totalMoults, weight }) => ({ totalMoults, share: Number(weight.toFixed(6)) })),
      ).toEqual(STAGMOMANTIS_MOULTS[sex])
    }
  })

  it('let about 54 % of singly kept nymphs live through seven moults', () => {
    const { first, second, third, later, finalMoult } = profileOf('creobroter-spp').growth.survival.value
    expect(first * second * third * later ** 3 * finalMoult).toBeCloseTo(0.54, 2)
  })

  it('give crickets to no species that should have flies and moths', () => {
    const flyEaters = DEFAULT_PROFILES.filter(({ profile }) =>
      profile.feeding.avoids.value.includes('small-cricket'),
    )
    expect(flyEaters.map(({ slug }) => slug).sort()).toEqual([
      'blepharopsis-mendica',
      'gongylus-gongylodes',
      'hymenopus-coronatus',
      'idolomantis-diabolica',
    ])
  })
})

describe('editing a care profile', () => {
  it('finds a number and a source at every listed path of every species', () => {
    for (const { profile } of DEFAULT_PROFILES) {
      for (const { path, isOptional } of profileValuePaths()) {
        const value = getProfileValue(profile, path)
        expect(typeof value === 'number' || (isOptional && value === null), path).toBe(true)
        expect(getValueSource(profile, path), path).toBeDefined()
      }
    }
  })

  it('turns a changed value into an own one and leaves the rest and the original alone', () => {
    const profile = profileOf('creobroter-spp')
    const edited = updateProfileValue(profile, {
      path: 'growth.daysToAdult.female.value',
      value: 105,
      note: 'six clutches',
    })
    expect(edited.growth.daysToAdult.female).toMatchObject({
      value: 105,
      source: { kind: 'own', note: 'six clutches' },
    })
    expect(profile.growth.daysToAdult.female.value).toBe(95)
    expect({ ...edited.growth.daysToAdult, female: null }).toEqual({
      ...profile.growth.daysToAdult,
      female: null,
    })
    expect(() => updateProfileValue(profile, { path: '__proto__.value', value: 1, note: '' })).toThrow(
      RangeError,
    )
  })

  it('names the value that cannot be', () => {
    const profile = profileOf('creobroter-spp')
    const cases: [string, number | null][] = [
      ['growth.daysToAdult.male.value', 0],
      ['growth.daysToAdult.male.value', Number.NaN],
      ['growth.moultsToAdult.male.value.typical', 6.5],
      ['hatch.nymphs.value.typical', null],
      ['hatch.nymphs.value.max', 20],
      ['keeping.dayC.value.max', 10],
      ['growth.referenceC.value', 12],
      ['growth.upperThresholdC.value', 20],
      ['growth.moultsToAdult.female.value.oneMoreShare', 0.95],
      ['hatch.incubation.value.maxC', -3],
    ]
    for (const [path, value] of cases) {
      const problems = checkProfile(updateProfileValue(profile, { path, value, note: '' }))
      expect(
        problems.map((problem) => problem.path),
        path,
      ).toContain(path)
    }
    const colony = updateProfileValue(profile, {
      path: 'separation.apartAtMoults.value',
      value: null,
      note: '',
    })
    expect(checkProfile(colony)).toEqual([])
  })
})

describe('body length', () => {
  it('starts with the hatchling and ends with the adult of each sex', () => {
    for (const { profile } of DEFAULT_PROFILES) {
      const { hatchling, adultMale, adultFemale } = profile.keeping.bodyLengthMm.value
      expect(bodyLengthMm(profile, { sex: 'female', moults: 0 })).toBeCloseTo(hatchling, 9)
      expect(
        bodyLengthMm(profile, { sex: 'male', moults: profile.growth.moultsToAdult.male.value.typical }),
      ).toBeCloseTo(adultMale, 9)
      expect(bodyLengthMm(profile, { sex: 'female', moults: 3, isAdult: true })).toBeCloseTo(adultFemale, 9)
    }
  })

  it('grows with every moult and never past the adult', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFAULT_PROFILES.map(({ slug }) => slug)),
        fc.constantFrom('male' as const, 'female' as const, 'unsexed' as const),
        fc.nat(10),
        (slug, sex, moultsMade) => {
          const profile = profileOf(slug)
          const now = bodyLengthMm(profile, { sex, moults: moultsMade })
          expect(bodyLengthMm(profile, { sex, moults: moultsMade + 1 })).toBeGreaterThanOrEqual(now)
          expect(bodyLengthMm(profile, { sex, moults: moultsMade, isAdult: true })).toBeGreaterThanOrEqual(
            now - 1e-9,
          )
        },
      ),
    )
  })

  it('is 12.3 mm for a Hierodula in the third instar', () => {
    expect(bodyLengthMm(profileOf('hierodula-spp'), { sex: 'female', moults: 2 })).toBeCloseTo(
      6.5 * (85 / 6.5) ** 0.25,
      9,
    )
  })
})
