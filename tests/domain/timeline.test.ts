import { describe, expect, it } from 'vitest'
import { forecastNextMoult } from '@/lib/domain/development/forecast'
import { moultTimeline } from '@/lib/domain/development/timeline'
import { profileOf, steady } from '../cases/profile'

const profile = profileOf('hymenopus-coronatus')
const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
const starts = [
  { moults: 2, on: '2026-10-02' },
  { moults: 0, on: '2026-09-05' },
  { moults: 1, on: '2026-09-18' },
]

function timelineOn(today: string) {
  const forecast = forecastNextMoult({
    profile,
    sex: 'female',
    moults: 2,
    instarStartedOn: '2026-10-02',
    history: steady(27),
    today,
  })
  return moultTimeline({ profile, sex: 'female', starts, forecast, naming, today })
}

describe('the moult timeline', () => {
  it('shows the instars that were, the running one and the next, each longer than the one before', () => {
    const { steps } = timelineOn('2026-10-12')
    expect(steps.map(({ label, days, state }) => [label, days, state])).toEqual([
      ['1st', 13, 'certain'],
      ['2nd', 14, 'certain'],
      ['3rd', 10, 'running'],
      ['4th', null, 'expected'],
    ])
    const lengths = steps.map(({ lengthMm }) => lengthMm)
    expect(lengths.every((length, index) => length > (lengths[index - 1] ?? 0))).toBe(true)
  })

  it('puts the window after today, with the leave-alone stretch reaching past it', () => {
    const { window, leaveAlone, today } = timelineOn('2026-10-12')
    expect(window && window.p10 >= today && leaveAlone && leaveAlone.until > window.p90).toBe(true)
    expect(leaveAlone?.from).toBe(window?.p10)
  })

  it('ends with the adult, without a window', () => {
    const today = '2027-03-01'
    const forecast = forecastNextMoult({
      profile,
      sex: 'female',
      moults: 2,
      isAdult: true,
      instarStartedOn: '2026-10-02',
      history: steady(27),
      today,
    })
    const { steps, window } = moultTimeline({
      profile,
      sex: 'female',
      isAdult: true,
      starts,
      forecast,
      naming,
      today,
    })
    expect(steps.at(-1)).toMatchObject({ label: 'adult', state: 'running', lengthMm: 60 })
    expect(window).toBeNull()
  })

  it('keeps silent about stages nobody saw', () => {
    const today = '2026-10-12'
    const forecast = forecastNextMoult({
      profile,
      sex: 'female',
      moults: 3,
      instarStartedOn: '2026-10-05',
      history: steady(27),
      today,
    })
    const { steps } = moultTimeline({
      profile,
      sex: 'female',
      starts: [{ moults: 3, on: '2026-10-05' }],
      forecast,
      naming,
      today,
    })
    expect(steps.map(({ label }) => label)).toEqual(['4th', '5th'])
  })
})
