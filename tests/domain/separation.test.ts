import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { developmentClock, effectiveDays, thresholdsOf } from '@/lib/domain/development/clock'
import { type DevelopmentCourse, medianInstarDays, openCourses } from '@/lib/domain/development/instar-length'
import { PRIOR_LOG_SD, priorParameters } from '@/lib/domain/development/parameters'
import { seededStream } from '@/lib/domain/random/seeded'
import { forecastSeparation } from '@/lib/domain/separation/deadline'
import type { SeparationInput } from '@/lib/domain/separation/input'
import { riskPerAnimalDay } from '@/lib/domain/separation/risk'
import { clutchStages, sharePast, stageShares } from '@/lib/domain/separation/stage-shares'
import { profileOf, steady } from '../cases/profile'

const creobroter = profileOf('creobroter-spp')
const HATCHED = '2026-09-01'

function clutch(changes: Partial<SeparationInput> = {}): SeparationInput {
  return {
    profile: creobroter,
    hatchedOn: HATCHED,
    together: 64,
    history: steady(26),
    today: '2026-09-05',
    ...changes,
  }
}

function pickCourse(courses: DevelopmentCourse[], draw: number): DevelopmentCourse {
  let sum = 0
  for (const course of courses) {
    sum += course.weight
    if (draw < sum) return course
  }
  return courses[0]!
}

/** Moult ages of siblings drawn one by one from the same model, in effective days. */
function playedClutch(count: number): number[][] {
  const stream = seededStream('clutch')
  const noise = priorParameters(creobroter).noiseLogSd
  const courses = openCourses(creobroter, { sex: 'unsexed', moults: 0 })
  return Array.from({ length: count }, () => {
    const course = pickCourse(courses, stream.uniform())
    const animal = stream.normal(0, PRIOR_LOG_SD.animal)
    let age = 0
    return Array.from({ length: course.totalMoults }, (_, moults) => {
      age += Math.exp(
        Math.log(medianInstarDays(creobroter, course, moults)) + animal + stream.normal(0, noise),
      )
      return age
    })
  })
}

describe('the spread of siblings over the instars', () => {
  it('agrees with siblings played out one by one', () => {
    const stages = clutchStages(creobroter, priorParameters(creobroter))
    const played = playedClutch(20_000)
    for (const age of [7, 10, 14, 18, 21, 30, 45, 70, 90]) {
      for (const moults of [1, 2, 3, 5]) {
        const counted =
          played.filter((ages) => (ages[moults - 1] ?? Number.POSITIVE_INFINITY) <= age).length /
          played.length
        expect(Math.abs(sharePast(stages, moults, age) - counted), `${moults} moults at ${age}`).toBeLessThan(
          0.02,
        )
      }
    }
  })

  it('always sums to the whole clutch', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFAULT_PROFILES.map(({ slug }) => slug)),
        fc.double({ min: 0, max: 400, noNaN: true }),
        (slug, age) => {
          const profile = profileOf(slug)
          const shares = stageShares(clutchStages(profile, priorParameters(profile)), age)
          expect(shares.every((share) => share >= 0)).toBe(true)
          expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9)
        },
      ),
    )
  })
})

describe('the risk of siblings', () => {
  const inInstar = (moults: number) => Array.from({ length: 8 }, (_, index) => (index === moults ? 1 : 0))

  it('is 0.1, 0.5, 2 and 6 % a day from the first to the fourth instar and stays there', () => {
    const risks = [0, 1, 2, 3, 5].map((moults) =>
      riskPerAnimalDay(creobroter, { shares: inInstar(moults), together: 50 }),
    )
    expect(risks).toEqual([0.001, 0.005, 0.02, 0.06, 0.06])
  })

  it('is a fifth in tolerant, threefold in fierce species, threefold with a size gap, and hunger adds', () => {
    const group = { shares: inInstar(2), together: 50 }
    expect(riskPerAnimalDay(profileOf('phyllocrania-paradoxa'), group)).toBeCloseTo(0.004, 12)
    expect(riskPerAnimalDay(profileOf('miomantis-spp'), group)).toBeCloseTo(0.06, 12)
    expect(riskPerAnimalDay(creobroter, { ...group, hasSizeGap: true })).toBeCloseTo(0.06, 12)
    expect(riskPerAnimalDay(creobroter, { ...group, isHungry: true })).toBeCloseTo(0.195, 12)
    expect(riskPerAnimalDay(creobroter, { ...group, lossScale: 2 })).toBeCloseTo(0.04, 12)
  })

  it('grows with the number in one container, but hunger counts more than crowding', () => {
    const shares = inInstar(1)
    const risk = (together: number) => riskPerAnimalDay(creobroter, { shares, together, volumeMl: 1000 })
    expect(risk(5)).toBe(0.005)
    expect(risk(400)).toBeGreaterThan(risk(300))
    expect(risk(5000)).toBeCloseTo(0.02, 12)
    expect(riskPerAnimalDay(creobroter, { shares, together: 5, isHungry: true })).toBeGreaterThan(risk(5000))
  })
})

describe('until when siblings can stay together', () => {
  it('is due on the last day with fewer than two of a hundred past the risk instar', () => {
    const { dueOn } = forecastSeparation(clutch({ together: 100 }))
    const clock = developmentClock(steady(26), thresholdsOf(creobroter))
    const stages = clutchStages(creobroter, priorParameters(creobroter))
    const expectedPast = (on: string) => 100 * sharePast(stages, 2, effectiveDays(clock, HATCHED, on))
    expect(expectedPast(dueOn!)).toBeLessThan(2)
    expect(expectedPast(addDays(dueOn!, 1))).toBeGreaterThanOrEqual(2)
  })

  it('is late on the first day on which waiting one more day costs an animal', () => {
    const input = clutch()
    const { lateOn } = forecastSeparation(input)
    const cost = (today: string) => forecastSeparation({ ...input, today }).perDayNow
    expect(cost(lateOn!)).toBeGreaterThanOrEqual(1)
    expect(cost(addDays(lateOn!, -1))).toBeLessThan(1)
  })

  it('follows the clock, not a number of days: a cool room gives more time', () => {
    const warm = forecastSeparation(clutch())
    const cool = forecastSeparation(clutch({ history: steady(20) }))
    expect(daysBetween(HATCHED, cool.dueOn!) / daysBetween(HATCHED, warm.dueOn!)).toBeCloseTo(1 / 0.571, 0)
    expect(cool.lateOn! > warm.lateOn!).toBe(true)
    expect(forecastSeparation(clutch({ history: steady(10) }))).toMatchObject({
      dueOn: null,
      lateOn: null,
      state: 'fine',
    })
  })

  it('goes from fine over due to late as the days pass', () => {
    const { dueOn, lateOn } = forecastSeparation(clutch())
    const stateOn = (today: string) => forecastSeparation(clutch({ today })).state
    expect(stateOn(addDays(dueOn!, -1))).toBe('fine')
    expect(stateOn(dueOn!)).toBe('due')
    expect(stateOn(addDays(lateOn!, -1))).toBe('due')
    expect(stateOn(lateOn!)).toBe('late')
  })

  it('is due before it is late, inside its own window, in every species and size of clutch', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFAULT_PROFILES.map(({ slug }) => slug)),
        fc.integer({ min: 2, max: 400 }),
        fc.integer({ min: 20, max: 33 }),
        (slug, together, dayC) => {
          const { dueOn, lateOn, dueBetween } = forecastSeparation(
            clutch({ profile: profileOf(slug), together, history: steady(dayC) }),
          )
          if (dueOn && lateOn) expect(dueOn < lateOn || dueOn === HATCHED).toBe(true)
          if (dueOn && dueBetween)
            expect(dueBetween.earliest <= dueOn && dueOn <= dueBetween.latest).toBe(true)
        },
      ),
      { numRuns: 60 },
    )
  })

  it('costs more the longer one waits, beginning with nothing and never more than there are', () => {
    const { costOfWaiting, perDayNow } = forecastSeparation(clutch({ today: '2026-09-20' }))
    const losses = costOfWaiting.map(({ expectedLosses }) => expectedLosses)
    expect(costOfWaiting[0]).toEqual({ on: '2026-09-20', expectedLosses: 0 })
    expect(losses[1]).toBeCloseTo(perDayNow, 9)
    expect(losses.every((loss, index) => index === 0 || loss > losses[index - 1]!)).toBe(true)
    expect(losses.at(-1)).toBeLessThan(64)
  })

  it('cannot wait when two instars, hunger, short food or missing animals were seen', () => {
    const today = '2026-09-06'
    for (const sign of ['hasSizeGap', 'isHungry', 'isFoodShort', 'hasUnexpectedLosses'] as const) {
      const forecast = forecastSeparation(clutch({ today, signs: { [sign]: true } }))
      expect(forecast.dueOn! <= today, sign).toBe(true)
      expect(forecast.state, sign).not.toBe('fine')
      expect(forecast.reasons[0]!.code, sign).not.toBe('stage')
    }
  })

  it('is asked of no colony species that has room, and of no single animal', () => {
    const colony = forecastSeparation(clutch({ profile: profileOf('phyllocrania-paradoxa'), together: 30 }))
    expect(colony).toMatchObject({ dueOn: null, state: 'fine' })
    expect(colony.reasons[0]!.code).toBe('colony')
    expect(forecastSeparation(clutch({ together: 1 }))).toMatchObject({
      dueOn: null,
      lateOn: null,
      perDayNow: 0,
    })
    expect(forecastSeparation(clutch({ together: 0 })).reason).toContain('No siblings')
  })

  it('moves when somebody saw when the clutch moulted', () => {
    const slow = forecastSeparation(clutch({ today: '2026-09-15', seen: { on: '2026-09-15', moults: 1 } }))
    const quick = forecastSeparation(clutch({ today: '2026-09-08', seen: { on: '2026-09-08', moults: 1 } }))
    const unseen = forecastSeparation(clutch())
    expect(quick.dueOn! < unseen.dueOn!).toBe(true)
    expect(slow.dueOn! > unseen.dueOn!).toBe(true)
  })

  it('says why in one line that names the hatch', () => {
    const { reason } = forecastSeparation(clutch())
    expect(reason).toContain('Hatched on 1 Sep')
    expect(reason).toContain('2nd moult')
  })
})
