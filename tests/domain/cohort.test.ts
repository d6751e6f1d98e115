import { describe, expect, it } from 'vitest'
import {
  type CohortLife,
  cohortCourse,
  listCohortStages,
  sayCohort,
  sharesOfLives,
} from '@/lib/domain/cohort/course'

const life = (moults: [string, number][], more: Partial<CohortLife> = {}): CohortLife => ({
  fromOn: '2026-09-10',
  fromMoults: 1,
  moults: moults.map(([on, number]) => ({ on, number })),
  untilOn: null,
  ...more,
})
const lives = [
  life([['2026-09-14', 2]]),
  life([['2026-09-16', 2]]),
  life([], { untilOn: '2026-09-15' }),
  life([['2026-09-12', 2]], { fromOn: '2026-09-12' }),
]
const expectedOn = (on: string) => (on < '2026-09-13' ? [0.1, 0.9] : [0, 0.5, 0.5])
const course = cohortCourse({
  expectedOn,
  lives,
  sightings: [{ on: '2026-09-08', moulted: 'some', number: 1, sizeGap: false, hunger: false }],
  hatchedOn: '2026-09-01',
  today: '2026-09-20',
  daysAhead: 10,
})

describe('siblings over the instars', () => {
  it('are counted on each day among those parted and still here', () => {
    expect(sharesOfLives(lives, '2026-09-11')).toEqual({ animals: 3, shares: [0, expect.closeTo(1)] })
    expect(sharesOfLives(lives, '2026-09-14')).toEqual({ animals: 4, shares: [0, 0.5, 0.5] })
    expect(sharesOfLives(lives, '2026-09-15')).toMatchObject({ animals: 3 })
    expect(sharesOfLives(lives, '2026-09-09')).toBeNull()
  })

  it('are told from the hatch until some days ahead, with nothing seen after today', () => {
    expect(course.days[0]?.on).toBe('2026-09-01')
    expect(course.days.at(-1)?.on).toBe('2026-09-30')
    expect(course.days.filter(({ on }) => on > '2026-09-20').every(({ seen }) => seen === null)).toBe(true)
    expect(course.words).toEqual([{ on: '2026-09-08', number: 1, moulted: 'some', low: 0.1, high: 0.5 }])
    expect(listCohortStages(course)).toEqual([0, 1, 2])
  })

  it('of a long-lived clutch stay at sixty steps, of which one is today', () => {
    const long = { expectedOn, lives, sightings: [], hatchedOn: '2026-01-03', daysAhead: 28 }
    const { days } = cohortCourse({ ...long, today: '2026-09-20' })
    expect(days.length).toBeLessThanOrEqual(60)
    expect(days.map(({ on }) => on)).toContain('2026-09-20')
  })

  it('that are ahead, behind or where they were expected are told so in words', () => {
    expect(sayCohort(course)).toBe(
      'The 3 parted are ahead: 0.5 of a moult further than expected, on average.',
    )
    expect(sayCohort(cohortCourse({ ...base, expectedOn: () => [0, 0, 0.5, 0.5] }))).toMatch(
      /are behind: 0\.5/,
    )
    expect(sayCohort(cohortCourse({ ...base, expectedOn: () => [0, 0, 1] }))).toMatch(
      /where they were expected/,
    )
    expect(sayCohort(cohortCourse({ ...base, expectedOn, lives: [] }))).toMatch(/Nothing has been seen/)
  })
})

const base = { lives, sightings: [], hatchedOn: '2026-09-01', today: '2026-09-20', daysAhead: 10 }
