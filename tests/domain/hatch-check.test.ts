import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { answerHatch, type HatchQuestion, spokenFor } from '@/lib/domain/hatch-check/answer'
import { foodOfHatch } from '@/lib/domain/hatch-check/food'
import { deadlineOf, type HatchPlace, hatchGrowth, hatchLoad } from '@/lib/domain/hatch-check/load'
import { moveForHatch } from '@/lib/domain/hatch-check/move'
import { sayBetterDay, sayHatchAnswer } from '@/lib/domain/hatch-check/wording'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import { minutesByDay } from '@/lib/domain/separation/bench-hours'
import { SEPARATION_LABOUR } from '@/lib/domain/separation/plan-room'
import { profileOf, steady } from '../cases/profile'

const TODAY = '2026-11-02'
const SPAN = { from: TODAY, weeks: 16 }
const profile = profileOf('creobroter-spp')
const history = steady(26)
const growth = hatchGrowth({ profile, history }, { from: TODAY, days: 150 })
const place: HatchPlace = { profile, history, labour: SEPARATION_LABOUR, growth }
const NYMPHS = { low: 20, typical: 60, high: 90 }

function question(room: { minutesADay: number; cups: number }, changes: Partial<HatchQuestion> = {}) {
  const minutesOn = minutesByDay(Array(7).fill(room.minutesADay), { from: TODAY, days: 7 * 16 })
  const hatchOn = addDays(TODAY, 10)
  const weeks = spokenFor([], { minutesOn, cupsOn: () => room.cups }, SPAN)
  return { hatchOn, nymphs: NYMPHS, place, span: SPAN, room: weeks, ...changes }
}

describe('what a hatch asks for', () => {
  it('is an evening or three of parting before the deadline, then feedings of every cup', () => {
    const hatchOn = addDays(TODAY, 10)
    const load = hatchLoad({ on: hatchOn, nymphs: 60 }, place, SPAN)
    expect(load.dueOn).toBe(deadlineOf({ on: hatchOn, nymphs: 60 }, place))
    const parting = load.weeks.reduce((sum, week) => sum + week.partingMinutes, 0)
    const alive = 60 * (growth.living[14] ?? 1)
    // 45 s a nymph and ten minutes for each of three evenings.
    expect(parting).toBeGreaterThan(30 + 0.6 * alive * 0.75)
    expect(parting).toBeLessThan(30 + 60 * 0.75 + 1)
    const late = load.weeks.find(({ week }) => week > addDays(load.dueOn ?? TODAY, 7))
    // 17 s a cup every second day.
    expect(late?.feedingMinutes).toBeCloseTo(((late?.living ?? 0) * 7 * 17) / 60 / 2, 0)
    expect(late?.partingMinutes).toBe(0)
    expect(load.weeks[0]).toMatchObject({ living: 0, cups: 0, partingMinutes: 0, feedingMinutes: 0 })
    for (const { living, cups } of load.weeks) expect(cups).toBeLessThanOrEqual(60 + 1e-9 + living * 0)
  })

  it('is in proportion to the nymphs but for the evenings', () => {
    const on = addDays(TODAY, 3)
    const dueOn = addDays(TODAY, 20)
    const [one, three] = [20, 60].map((nymphs) => hatchLoad({ on, nymphs, dueOn }, place, SPAN))
    const feeding = (load: typeof one) => load!.weeks.reduce((sum, week) => sum + week.feedingMinutes, 0)
    expect(feeding(three) / feeding(one)).toBeCloseTo(3, 6)
  })
})

describe('can I take this hatch', () => {
  it('yes, where there are hours and cups', () => {
    const answer = answerHatch(question({ minutesADay: 120, cups: 200 }))
    expect(answer).toMatchObject({ verdict: 'all', raise: 60, earlyLots: 0, limit: null, betterDay: null })
    expect(answer.weeks.some(({ isShortOfHours, isShortOfCups }) => isShortOfHours || isShortOfCups)).toBe(
      false,
    )
    expect(sayHatchAnswer(answer, { typical: 60, today: TODAY })).toBe(
      'Yes: hatching about 12 Nov, there are hours and containers for all 60.',
    )
  })

  it('for as many as there are cups, the rest as early lots', () => {
    const answer = answerHatch(question({ minutesADay: 120, cups: 25 }))
    expect(answer).toMatchObject({ verdict: 'some', limit: 'containers' })
    expect(answer.raise).toBeGreaterThanOrEqual(25)
    expect(answer.raise).toBeLessThan(37)
    expect(answer.raise + answer.earlyLots).toBe(60)
    const said = sayHatchAnswer(answer, { typical: 60, today: TODAY })
    expect(said).toMatch(
      /^For \d+ of about 60: hatching about 12 Nov, containers run short\. \d+ nymphs would have to go as early lots by \d+ \w+/,
    )
  })

  it('never for more than one more cup or minute would allow', () => {
    let before = 0
    for (const cups of [0, 5, 10, 20, 40, 80]) {
      const { raise } = answerHatch(question({ minutesADay: 200, cups }))
      expect(raise).toBeGreaterThanOrEqual(before)
      before = raise
    }
    before = 0
    for (const minutesADay of [0, 2, 5, 10, 20, 60]) {
      const { raise, limit } = answerHatch(question({ minutesADay, cups: 500 }))
      expect(raise).toBeGreaterThanOrEqual(before)
      if (raise < 60) expect(limit).toBe('hours')
      before = raise
    }
    expect(before).toBe(60)
    expect(answerHatch(question({ minutesADay: 0, cups: 500 }))).toMatchObject({ verdict: 'none', raise: 0 })
  })

  it('counts what is here already first, egg cases by their chance', () => {
    const load = hatchLoad({ on: TODAY, nymphs: 100 }, place, SPAN)
    const half = spokenFor([{ load, chance: 0.5 }], { minutesOn: [], cupsOn: () => 80 }, SPAN)
    const full = spokenFor([{ load, chance: 1 }], { minutesOn: [], cupsOn: () => 80 }, SPAN)
    full.forEach((week, index) => {
      expect(half[index]!.spokenCups).toBeCloseTo(week.spokenCups / 2, 6)
      expect(half[index]!.spokenMinutes).toBeCloseTo(week.spokenMinutes / 2, 6)
    })
  })

  it('names a later day when a holiday takes the hours of this one', () => {
    const asked = question({ minutesADay: 60, cups: 200 })
    const hatchOn = asked.hatchOn
    const dueOn = deadlineOf({ on: hatchOn, nymphs: 60 }, place) ?? hatchOn
    const room = asked.room.map((week) =>
      Math.abs(Date.parse(week.week) - Date.parse(dueOn)) < 9 * 86_400_000 ? { ...week, minutes: 0 } : week,
    )
    const answer = answerHatch({ ...asked, room })
    expect(answer.verdict).toBe('none')
    expect(answer.betterDay?.raise).toBe(60)
    expect((answer.betterDay?.on ?? '') > hatchOn).toBe(true)
    expect(sayBetterDay(answer, null, TODAY)).toMatch(/there would be room for 60\. None of your zones/)
  })
})

describe('moving an egg case', () => {
  const input = {
    profile,
    laid: { kind: 'known' as const, on: addDays(TODAY, -10) },
    history: steady(26),
    today: TODAY,
  }
  it('into a cooler zone brings it near a later day', () => {
    const zones = [
      { id: 'cool', name: 'Side room', history: steady(21) },
      { id: 'warm', name: 'Shelf', history: steady(26) },
    ]
    const wish = addDays(TODAY, 36)
    const move = moveForHatch(input, { on: wish, zones })
    expect(move?.zoneId).toBe('cool')
    expect(Math.abs(Date.parse(move?.hatchOn ?? '') - Date.parse(wish))).toBeLessThanOrEqual(4 * 86_400_000)
  })
  it('never into one that the species does not stand', () => {
    const zones = [{ id: 'fridge', name: 'Cellar', history: steady(12) }]
    expect(moveForHatch(input, { on: addDays(TODAY, 60), zones })).toBeNull()
  })
})

describe('what it eats', () => {
  it('is cultures and money by week, from the first line that each stage takes', () => {
    const load = hatchLoad({ on: addDays(TODAY, 7), nymphs: 50 }, place, SPAN)
    const food = foodOfHatch(load, { profile, growth, lines: DEFAULT_PREY_LINES })
    expect(food[0]).toMatchObject({ lines: [], costMinor: 0 })
    const second = food[2]!
    expect(second.lines.length).toBeGreaterThan(0)
    expect(second.lines[0]?.items).toBeGreaterThan(50)
    expect(second.costMinor).toBeGreaterThan(0)
    const twice = foodOfHatch({ ...load, nymphs: 100 }, { profile, growth, lines: DEFAULT_PREY_LINES })
    expect(twice[2]!.costMinor).toBeCloseTo(2 * second.costMinor, 6)
    expect(foodOfHatch(load, { profile, growth, lines: [] })[2]?.lines).toEqual([])
  })
})
