import { describe, expect, test } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { byDefault } from '@/lib/domain/care-profile/value'
import { minutesByDay, USUAL_MINUTES, writeMinutes } from '@/lib/domain/separation/bench-hours'
import { learnLabour } from '@/lib/domain/separation/labour'
import { sayLossScale } from '@/lib/domain/separation/learned-words'
import {
  expectedLosses,
  type GroupCourse,
  hasUnexpectedLosses,
  learnLossScales,
  lossScaleOf,
} from '@/lib/domain/separation/loss-scale'
import { firstSafeDay, untouchableDays } from '@/lib/domain/separation/untouchable'
import { profileOf } from '../cases/profile'

const TODAY = '2026-11-25'
const profile = profileOf('creobroter-spp')
const history = [{ from: '2026-01-01', until: null, dayC: 26 }]

/** Sixty siblings, kept together for four weeks, of whom some vanished without a trace. */
function course(vanished: number, changes: Partial<GroupCourse> = {}): GroupCourse {
  const hatchedOn = '2026-09-01'
  return {
    clutchId: 'one',
    speciesId: 'creobroter',
    profile,
    hatchedOn,
    history,
    changes: [
      { on: hatchedOn, change: 60, vanished: 0 },
      { on: addDays(hatchedOn, 28), change: -60, vanished },
    ],
    isSettled: true,
    ...changes,
  }
}

describe('the losses of one’s own clutches', () => {
  test('say nothing without a settled clutch: the care profile stands', () => {
    const learned = learnLossScales([course(9, { isSettled: false })], TODAY)
    expect(learned.all).toMatchObject({ scale: 1, clutches: 0 })
    expect(lossScaleOf(learned, 'creobroter').scale).toBe(1)
  })

  test('raise the risk where more vanish than expected, lower it where fewer do, and never to nothing', () => {
    const few = Array.from({ length: 6 }, () => course(0))
    const many = Array.from({ length: 6 }, () => course(40))
    expect(learnLossScales(few, TODAY).all.scale).toBeLessThan(0.7)
    expect(learnLossScales(few, TODAY).all.scale).toBeGreaterThan(0)
    expect(learnLossScales(many, TODAY).all.scale).toBeGreaterThan(1.3)
  })

  test('say from how many clutches they are: of the kind, and of all on which those lean', () => {
    const learned = learnLossScales(
      [course(0), ...Array.from({ length: 7 }, () => course(0, { speciesId: 'another' }))],
      TODAY,
    )
    expect(sayLossScale(lossScaleOf(learned, 'creobroter'))).toMatch(
      /from 1 settled clutch of its kind and 8 in all$/,
    )
    expect(sayLossScale(learned.all)).toMatch(/from 8 settled clutches$/)
  })

  test('of one clutch move the factor less than those of ten alike', () => {
    const away = (count: number) =>
      Math.abs(
        learnLossScales(
          Array.from({ length: count }, () => course(0)),
          TODAY,
        ).all.scale - 1,
      )
    expect(away(1)).toBeGreaterThan(0)
    expect(away(10)).toBeGreaterThan(away(1))
  })

  test('of one species pull another only as far as both are of one room', () => {
    const learned = learnLossScales(
      [...Array.from({ length: 5 }, () => course(50)), course(0, { speciesId: 'calm' })],
      TODAY,
    )
    expect(lossScaleOf(learned, 'creobroter').scale).toBeGreaterThan(learned.all.scale)
    expect(lossScaleOf(learned, 'calm').scale).toBeLessThan(learned.all.scale)
    expect(lossScaleOf(learned, 'never kept').scale).toBe(learned.all.scale)
  })

  test('are expected only while more than one is together', () => {
    const parted = course(0, {
      changes: [
        { on: '2026-09-01', change: 60, vanished: 0 },
        { on: '2026-09-03', change: -60, vanished: 0 },
      ],
    })
    expect(expectedLosses(parted, TODAY)).toBeLessThan(expectedLosses(course(0), TODAY) / 10)
  })

  test('are called unexpected when far more are missing than the room usually loses', () => {
    const open = (vanished: number) =>
      course(0, { isSettled: false, changes: [{ on: '2026-09-01', change: 60, vanished }] })
    expect(hasUnexpectedLosses(open(2), 1, '2026-09-12')).toBe(false)
    expect(hasUnexpectedLosses(open(14), 1, '2026-09-12')).toBe(true)
    expect(hasUnexpectedLosses(open(14), 20, '2026-09-12')).toBe(false)
  })
})

describe('the time a nymph takes', () => {
  test('is the default until somebody has worked at the bench', () => {
    expect(learnLabour([])).toMatchObject({ secondsPerNymph: 45, runs: 0 })
  })

  test('follows the runs, and the more of them the closer', () => {
    const runs = (count: number) => Array.from({ length: count }, () => ({ minutes: 15, cups: 30 }))
    const [one, many] = [learnLabour(runs(1)), learnLabour(runs(20))]
    expect(one.secondsPerNymph).toBeLessThan(45)
    expect(many.secondsPerNymph).toBeLessThan(one.secondsPerNymph)
    expect(many).toMatchObject({ secondsPerNymph: 30, runs: 20 })
  })

  test('leaves out a run left open overnight, one typed in afterwards, and three cups', () => {
    const odd = [
      { minutes: 900, cups: 30 },
      { minutes: 0.1, cups: 30 },
      { minutes: 4, cups: 3 },
    ]
    expect(learnLabour(odd)).toMatchObject({ secondsPerNymph: 45, runs: 0 })
  })
})

describe('the hours of a week', () => {
  test('fall on their weekdays, but for the days that are unlike them', () => {
    const days = minutesByDay(USUAL_MINUTES, { from: '2026-11-25', days: 5 }, [
      { on: '2026-11-26', minutes: 0 },
    ])
    expect(days.map(({ minutes }) => minutes)).toEqual([60, 0, 60, 120, 120])
    expect(days[0]?.on).toBe('2026-11-25')
  })

  test('are written as people say them', () => {
    expect([0, 45, 60, 90, 125].map(writeMinutes)).toEqual(['no time', '45 min', '1 h', '1 h 30', '2 h 05'])
  })
})

describe('when siblings are better not touched', () => {
  const input = { profile, hatchedOn: TODAY, together: 60, history, today: TODAY }

  test('are the first days after the hatch, until they are hard', () => {
    expect(firstSafeDay(input)).toBe(addDays(TODAY, 2))
  })

  test('are the days on which many of them moult, and not the ones between', () => {
    const dates = Array.from({ length: 12 }, (_, day) => addDays(TODAY, day))
    const blocked = untouchableDays(
      { ...input, profile: { ...profile, growth: { ...profile.growth, siblingLogSd: byDefault(0.02) } } },
      dates,
    )
    expect(blocked.length).toBeGreaterThan(0)
    expect(blocked).not.toContain(TODAY)
    expect(untouchableDays({ ...input, history: [{ from: TODAY, until: null, dayC: 5 }] }, dates)).toEqual([])
  })
})
