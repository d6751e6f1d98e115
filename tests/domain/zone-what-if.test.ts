import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { forecastHatch } from '@/lib/domain/hatch/forecast'
import { historyOfZoneStays, type KnownZone } from '@/lib/domain/zone/history'
import {
  groupMoves,
  sayShift,
  sayShifts,
  shiftDays,
  windowOfDay,
  zonesWithSetPoint,
} from '@/lib/domain/zone/what-if'

const TODAY = '2026-05-10'
const windowAt = (days: number) => windowOfDay(addDays(TODAY, days), null)
const zones = new Map<string, KnownZone>([
  [
    'shelf',
    {
      setPoints: [
        { from: '2026-01-01', dayC: 26, nightC: 22 },
        { from: '2026-06-01', dayC: 24, nightC: null },
      ],
    },
  ],
  ['room', { setPoints: [{ from: '2026-01-01', dayC: 22, nightC: null }] }],
])

describe('another temperature', () => {
  it('holds from its day until what is planned, in its zone alone', () => {
    const setPoint = { from: TODAY, dayC: 28, nightC: 24 }
    const changed = zonesWithSetPoint(zones, { zoneId: 'shelf', setPoint })
    expect(changed.get('shelf')?.setPoints.map(({ from, dayC }) => [from, dayC])).toEqual([
      ['2026-01-01', 26],
      [TODAY, 28],
      ['2026-06-01', 24],
    ])
    expect(changed.get('room')).toBe(zones.get('room'))
    expect(zones.get('shelf')?.setPoints).toHaveLength(2)
  })

  it('brings a hatch forward where it is warmer, and back where it is colder', () => {
    const profile = DEFAULT_PROFILES.find(({ slug }) => slug === 'hymenopus-coronatus')?.profile
    if (!profile) throw new Error('the species is among the defaults')
    const stays = [{ zoneId: 'room', from: '2026-04-20', until: null }]
    const hatchAt = (dayC: number) => {
      const setPoint = { from: TODAY, dayC, nightC: null }
      const history = historyOfZoneStays(stays, zonesWithSetPoint(zones, { zoneId: 'room', setPoint }))
      const laid = { kind: 'known' as const, on: '2026-04-20' }
      const forecast = forecastHatch({ profile, laid, history, today: TODAY, coldRest: null })
      return forecast.status === 'forecast' ? forecast : null
    }
    const now = hatchAt(22)
    expect(shiftDays({ before: now, after: hatchAt(24) })).toBeLessThan(0)
    expect(shiftDays({ before: now, after: hatchAt(20) })).toBeGreaterThan(0)
    expect(shiftDays({ before: now, after: now })).toBe(0)
  })
})

describe('moves', () => {
  it('are said with their spread', () => {
    const move = (before: number, after: number) => ({ before: windowAt(before), after: windowAt(after) })
    expect(sayShift(-1)).toBe('1 day earlier')
    expect(sayShifts(groupMoves([move(10, 8), move(12, 8)]))).toBe('2 to 4 days earlier')
    expect(sayShifts(groupMoves([move(10, 10), move(12, 15)]))).toBe('0 to 3 days later')
    expect(sayShifts(groupMoves([move(10, 9), move(12, 13)]))).toBe('1 day earlier to 1 day later')
    expect(sayShifts(groupMoves([{ before: windowAt(3), after: null }]))).toBe('cannot be foreseen')
  })

  it('of a group hold the shift of each of its members', () => {
    const moves = fc.array(fc.record({ before: fc.nat(90), after: fc.nat(90) }), {
      minLength: 1,
      maxLength: 30,
    })
    fc.assert(
      fc.property(moves, (pairs) => {
        const group = groupMoves(
          pairs.map(({ before, after }) => ({ before: windowAt(before), after: windowAt(after) })),
        )
        for (const { before, after } of pairs) {
          expect(after - before).toBeGreaterThanOrEqual(group.shifts?.least ?? Number.NaN)
          expect(after - before).toBeLessThanOrEqual(group.shifts?.most ?? Number.NaN)
        }
        expect(
          group.before && group.before.p10 <= group.before.p50 && group.before.p50 <= group.before.p90,
        ).toBe(true)
      }),
    )
  })
})
