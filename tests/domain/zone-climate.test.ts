import { describe, expect, it } from 'vitest'
import { developmentClock, effectiveDays, rate } from '@/lib/domain/development/clock'
import { historyOfZone, historyOfZoneStays, zonesAsOf } from '@/lib/domain/zone/history'
import { incidentWarning } from '@/lib/domain/zone/incident'
import { bridgeGaps, summariseDay, temperaturesOfDay } from '@/lib/domain/zone/measured-day'
import { readReadingText } from '@/lib/domain/zone/reading-text'
import { futureSpreadC, zoneTemperatureSpreadC } from '@/lib/domain/zone/spread'
import { sayUnitSlip, unitSlip, writeTemperature } from '@/lib/domain/zone/temperature-unit'

const THRESHOLDS = { lowerC: 12, referenceC: 26, upperC: 34 }
const SET = [{ from: '2026-01-01', dayC: 26, nightC: 20 }]
const hours = (of: (hour: number) => number | null) => Array.from({ length: 24 }, (_, hour) => of(hour))
const day = (on: string, of: (hour: number) => number | null) => {
  const hoursC = hours(of)
  return { on, hoursC, partsC: summariseDay(hoursC, { minC: 0, maxC: 50 }).partsC }
}

describe('a zone that was measured', () => {
  it('counts what was read instead of what was set, and what was set again on the next day', () => {
    const history = historyOfZone(SET, [day('2026-03-10', () => 19)])
    const clock = developmentClock(history, THRESHOLDS)
    expect(effectiveDays(clock, '2026-03-10', '2026-03-11')).toBeCloseTo(rate(19, THRESHOLDS), 9)
    const set = (rate(26, THRESHOLDS) + rate(20, THRESHOLDS)) / 2
    expect(effectiveDays(clock, '2026-03-01', '2026-03-10')).toBeCloseTo(9 * set, 9)
    expect(effectiveDays(clock, '2026-03-11', '2026-03-31')).toBeCloseTo(20 * set, 9)
  })

  it('averages rates over the day, not temperatures: a hot noon does not make up for a cold night', () => {
    const swinging = day('2026-03-10', (hour) => (hour < 12 ? 6 : 40))
    const clock = developmentClock(historyOfZone(SET, [swinging]), THRESHOLDS)
    const onThatDay = effectiveDays(clock, '2026-03-10', '2026-03-11')
    expect(onThatDay).toBeCloseTo(rate(34, THRESHOLDS) / 2, 9)
    expect(onThatDay).toBeLessThan(rate(23, THRESHOLDS))
  })

  it('bridges a gap of three hours and takes a longer one as it was set', () => {
    const short = hours((hour) => (hour >= 9 && hour < 12 ? null : hour < 9 ? 24 : 28))
    expect(bridgeGaps(short).slice(9, 12)).toEqual([25, 26, 27])
    const long = day('2026-03-10', (hour) => (hour >= 9 && hour < 13 ? null : 24))
    expect(long.partsC).toEqual([])
    expect(temperaturesOfDay(long, SET[0])[10]).toBe(26)
    const night = day('2026-03-10', (hour) => (hour < 5 ? null : 24))
    expect(temperaturesOfDay(night, SET[0])[2]).toBe(20)
  })

  it('keeps a day as four quarters by warmth that give the same rate as all its hours', () => {
    const of = (hour: number) => 24 + 8 * Math.sin((hour / 24) * 2 * Math.PI)
    const { partsC, meanC } = summariseDay(hours(of), { minC: 16, maxC: 32 })
    expect(partsC).toHaveLength(4)
    expect(meanC).toBeCloseTo(24, 6)
    const byHours = hours(of).reduce<number>((sum, hourC) => sum + rate(hourC ?? 0, THRESHOLDS), 0) / 24
    const byParts = partsC.reduce((sum, partC) => sum + rate(partC, THRESHOLDS), 0) / 4
    expect(byParts).toBeCloseTo(byHours, 3)
  })

  it('is on an earlier day what had been read by then', () => {
    const zones = new Map([
      ['a', { setPoints: SET, days: [day('2026-03-10', () => 19), day('2026-03-12', () => 19)] }],
    ])
    const known = zonesAsOf(zones, '2026-03-11').get('a')
    expect(known?.days?.map(({ on }) => on)).toEqual(['2026-03-10'])
  })

  it('gives animals that moved the days they spent in it', () => {
    const zones = new Map([
      ['a', { setPoints: SET, days: [day('2026-03-10', () => 30), day('2026-03-11', () => 30)] }],
      ['b', { setPoints: [{ from: '2026-01-01', dayC: 12, nightC: null }] }],
    ])
    const stays = [
      { zoneId: 'a', from: '2026-03-10', until: '2026-03-11' },
      { zoneId: 'b', from: '2026-03-11', until: null },
    ]
    const clock = developmentClock(historyOfZoneStays(stays, zones), THRESHOLDS)
    expect(effectiveDays(clock, '2026-03-10', '2026-03-20')).toBeCloseTo(rate(30, THRESHOLDS), 9)
  })

  it('is forecast with the spread it has shown: a steady shelf less, one that strays more than the default', () => {
    const since = (strayC: number) =>
      Array.from({ length: 84 }, (_, index) =>
        day(new Date(Date.UTC(2026, 0, 10 + index)).toISOString().slice(0, 10), () => 23 + strayC),
      )
    const spread = (strayC: number) =>
      zoneTemperatureSpreadC({ setPoints: SET, days: since(strayC) }, '2026-04-04')
    expect(spread(0)).toBeLessThan(1)
    expect(spread(3)).toBeGreaterThan(2.3)
    expect(zoneTemperatureSpreadC({ setPoints: SET }, '2026-04-04')).toBe(1.5)
    const zones = new Map([['a', { setPoints: SET, days: since(0) }]])
    expect(futureSpreadC([{ zoneId: 'a', from: '2026-01-01' }], zones, '2026-04-04')).toBe(spread(0))
  })
})

describe('units of temperature', () => {
  it('are asked about when 78 is typed as °C for a zone set to 26 °C, and when 26 is typed as °F', () => {
    const slip = unitSlip(78, 'celsius', 26)
    expect(slip?.temperatureC).toBeCloseTo(25.56, 2)
    expect(slip && sayUnitSlip(slip)).toBe('78 °C? Read in °F it would be 25.6 °C.')
    expect(unitSlip(26, 'fahrenheit', 26)?.temperatureC).toBe(26)
  })

  it('are not asked about where the figure is a true alarm: 52 °C in the sun, 8 °C after the heating failed', () => {
    expect(unitSlip(52, 'celsius', 26)).toBeNull()
    expect(unitSlip(8, 'celsius', 26)).toBeNull()
    expect(unitSlip(79, 'fahrenheit', 26)).toBeNull()
    expect(unitSlip(46, 'fahrenheit', 8)).toBeNull()
  })

  it('are written in the unit of the workspace', () => {
    expect(writeTemperature(26.04, 'celsius')).toBe('26 °C')
    expect(writeTemperature(25.5556, 'fahrenheit')).toBe('78 °F')
    expect(writeTemperature(-4, 'celsius')).toBe('−4 °C')
  })
})

const ground = {
  timeZone: 'Europe/Berlin',
  unit: 'celsius' as const,
  nowMs: Date.parse('2026-11-25T00:00:00Z'),
  setPoints: SET,
}

describe('readings that were pasted', () => {
  it.each([
    ['2026-11-24 08:00 26.4 61', 26.4, 61],
    ['2026-11-24T08:00:00+01:00;26,4;61', 26.4, 61],
    ['24.11.2026 08:00\t26,4\t61 %', 26.4, 61],
    ['2026-11-24 08:00,26.4,61', 26.4, 61],
    ['"2026-11-24 08:00","26.4","61"', 26.4, 61],
    ['2026-11-24T07:00:00Z 26.4', 26.4, null],
    ['2026-11-24 08:00 79.52°F', 26.4, null],
  ])('are read from “%s”', (text, temperatureC, humidityPct) => {
    const { readings, bad } = readReadingText(text, ground)
    expect(bad).toEqual([])
    expect(readings).toHaveLength(1)
    expect(readings[0]?.atMs).toBe(Date.parse('2026-11-24T07:00:00Z'))
    expect(readings[0]?.temperatureC).toBeCloseTo(temperatureC, 6)
    expect(readings[0]?.humidityPct ?? null).toBe(humidityPct)
  })

  it('may have a heading, and may come newest first', () => {
    const { readings, bad } = readReadingText(
      'time,temperature\n2026-11-24 09:00,26.0\n2026-11-24 08:00,25.0\n',
      ground,
    )
    expect(bad).toEqual([])
    expect(readings.map(({ temperatureC }) => temperatureC)).toEqual([25, 26])
  })

  it('have each line named that cannot be right', () => {
    const text = [
      '2026-11-24 08:00 26.4',
      'warm',
      '2026-11-24 25:00 26.4',
      '2026-02-30 08:00 26.4',
      '2026-11-24 07:00 26.4',
      '2026-11-24 07:00 26.4',
      '2026-11-24 09:00 26.4 140',
      '2026-11-27 09:00 26.4',
      '2026-11-28 09:00 99',
    ].join('\n')
    const { bad } = readReadingText(text, { ...ground, setPoints: [] })
    expect(bad.map(({ line, message }) => [line, message.slice(0, 22)])).toEqual([
      [2, 'Not read: a line is da'],
      [3, '25:00 is no time of da'],
      [4, '2026-02-30 is no day o'],
      [5, 'The time is earlier th'],
      [6, 'The time is the same t'],
      [7, 'Humidity is between 0 '],
      [8, 'The time lies in the f'],
      [9, 'The time lies in the f'],
      [9, 'A thermometer in a zon'],
    ])
  })

  it('in °F pasted as °C are recognised, and right once they are read so', () => {
    const text = '2026-11-24 08:00 78\n2026-11-24 09:00 79\n'
    expect(readReadingText(text, ground)).toMatchObject({ slips: 2, bad: [] })
    const { slips, readings } = readReadingText(text, { ...ground, unit: 'fahrenheit' })
    expect(slips).toBe(0)
    expect(readings[0]?.temperatureC).toBeCloseTo(25.56, 2)
  })

  it('with slashes in their dates need one that says which part is the month', () => {
    expect(readReadingText('03/04/2026 08:00 26', ground).bad[0]?.message).toContain('day or the month first')
    expect(readReadingText('03/13/2026 08:00 26\n03/14/2026 08:00 26', ground).readings).toHaveLength(2)
  })
})

describe('a zone that was too hot', () => {
  const heat = { kind: 'too_hot' as const, beganOn: '2026-11-20', clearOn: '2026-11-22' }

  it('keeps what stood in it from travelling for 48 hours, and no longer', () => {
    expect(incidentWarning([heat], '2026-11-22')).toContain('48 hours')
    expect(incidentWarning([heat], '2026-11-23')).toBeNull()
    expect(incidentWarning([{ ...heat, clearOn: null }], '2026-11-30')).toContain(
      'has not been inside its limits',
    )
    expect(incidentWarning([{ ...heat, kind: 'silent' }], '2026-11-21')).toBeNull()
  })
})
