import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { forecastSeparation, paceOfClutch, sharesByDay } from '@/lib/domain/separation/deadline'
import type { SeparationInput } from '@/lib/domain/separation/input'
import {
  type ClutchSighting,
  hangingOf,
  likelyMoultNumber,
  type MoultedShare,
  type SpokenSighting,
  signsOf,
} from '@/lib/domain/separation/sighting'
import { untouchableDays } from '@/lib/domain/separation/untouchable'
import { profileOf, steady } from '../cases/profile'

const HATCHED = '2026-09-01'
const clutch = (changes: Partial<SeparationInput> = {}): SeparationInput => ({
  profile: profileOf('creobroter-spp'),
  hatchedOn: HATCHED,
  together: 64,
  history: steady(26),
  today: '2026-09-12',
  ...changes,
})
const seen = (on: string, moulted: MoultedShare, more: Partial<ClutchSighting> = {}): SpokenSighting => ({
  number: 1,
  sizeGap: false,
  hunger: false,
  ...more,
  on,
  moulted,
})
const hung = (on: string, hanging: number, number = 1): ClutchSighting => ({
  ...{ on, number, hanging },
  moulted: null,
  sizeGap: false,
  hunger: false,
})
/** The first day on which so many of the siblings are expected past a moult. */
function dayOfShare(input: SeparationInput, share: number, number = 1): string {
  const shares = sharesByDay(input)
  for (let day = 0; day < 60; day += 1) {
    const on = addDays(HATCHED, day)
    if (
      shares(on)
        .slice(number)
        .reduce((sum, one) => sum + one, 0) >= share
    )
      return on
  }
  throw new Error('never')
}

describe('what is seen of siblings together', () => {
  it('makes a clutch quicker that moults before its time, and one slower of which none has', () => {
    const half = dayOfShare(clutch(), 0.5)
    const early = addDays(half, -3)
    const quick = paceOfClutch(clutch({ sightings: [seen(early, 'most')] }))!
    const slow = paceOfClutch(clutch({ sightings: [seen(addDays(half, 3), 'none')] }))!
    expect(quick.factor).toBeGreaterThan(1.1)
    expect(slow.factor).toBeLessThan(0.95)
  })

  it('changes little where it was what the warmth let expect, and narrows the dates', () => {
    const half = addDays(dayOfShare(clutch(), 0.5), -1)
    const pace = paceOfClutch(clutch({ sightings: [seen(half, 'some')] }))!
    expect(Math.abs(pace.factor - 1)).toBeLessThan(0.08)
    const wide = forecastSeparation(clutch()).dueBetween!
    const narrow = forecastSeparation(
      clutch({ sightings: [seen(half, 'some'), seen(addDays(half, 1), 'most')] }),
    )
    const span = (range: { earliest: string; latest: string }) => daysBetween(range.earliest, range.latest)
    expect(span(narrow.dueBetween!)).toBeLessThan(span(wide))
  })

  it('moves the deadline and says so', () => {
    const half = dayOfShare(clutch(), 0.5)
    const sightings = [seen(addDays(half, -3), 'most')]
    const quick = forecastSeparation(clutch({ sightings }))
    expect(quick.dueOn! < forecastSeparation(clutch()).dueOn!).toBe(true)
    expect(quick.reasons.map(({ code }) => code)).toContain('seen')
  })

  it('of one wrong word among three right ones moves a clutch little', () => {
    const days = [0.05, 0.3, 0.7].map((share) => dayOfShare(clutch(), share))
    const right = [seen(days[0]!, 'first'), seen(days[1]!, 'some'), seen(days[2]!, 'most')]
    const wrong = [...right, seen(addDays(HATCHED, 1), 'all')]
    const [a, b] = [right, wrong].map((sightings) => paceOfClutch(clutch({ sightings }))!)
    expect(Math.abs(b!.factor / a!.factor - 1)).toBeLessThan(0.03)
    expect(b!.leastChance).toBeLessThan(0.03)
    expect(a!.leastChance).toBeGreaterThan(0.03)
  })

  it('does not depend on the order in which it was written down', () => {
    const half = dayOfShare(clutch(), 0.5)
    const sightings = [seen(half, 'some'), seen(addDays(half, 2), 'most'), seen(addDays(half, -2), 'first')]
    const [one, other] = [sightings, [...sightings].reverse()].map((list) =>
      paceOfClutch(clutch({ sightings: list })),
    )
    expect(one!.factor).toBeCloseTo(other!.factor, 12)
  })
})

describe('the moult spoken of', () => {
  it('is the one whose time it is, and the next one when the last is through', () => {
    const shares = sharesByDay(clutch())
    const secondHalf = dayOfShare(clutch(), 0.5, 2)
    expect(likelyMoultNumber(shares(dayOfShare(clutch(), 0.3)), 'some', undefined)).toBe(1)
    expect(likelyMoultNumber(shares(secondHalf), 'some', undefined)).toBe(2)
    expect(likelyMoultNumber(shares(secondHalf), 'all', undefined)).toBe(1)
    expect(likelyMoultNumber(shares(HATCHED), 'none', undefined)).toBe(1)
    expect(likelyMoultNumber(shares(dayOfShare(clutch(), 0.3)), 'first', seen(HATCHED, 'all'))).toBe(2)
  })

  it('stays the same while more and more have made it', () => {
    const early = sharesByDay(clutch())(addDays(HATCHED, 2))
    const before = seen(addDays(HATCHED, 1), 'some')
    expect(likelyMoultNumber(early, 'most', before)).toBe(1)
    expect(likelyMoultNumber(early, 'first', before)).toBe(2)
  })
})

describe('signs of a group', () => {
  it('are those of the last look, and fade', () => {
    const gap = seen('2026-09-05', 'some', { sizeGap: true, hunger: true })
    expect(signsOf([gap], '2026-09-06')).toEqual({ hasSizeGap: true, isHungry: true, isMixed: true })
    expect(signsOf([gap], '2026-09-10')).toEqual({ hasSizeGap: true, isHungry: false, isMixed: false })
    expect(signsOf([gap, seen('2026-09-06', 'all')], '2026-09-06')).toMatchObject({ hasSizeGap: false })
    expect(signsOf([gap], '2026-09-04')).toEqual({})
  })

  it('of a size gap are due at once, of a passing moult only dearer', () => {
    const today = '2026-09-06'
    const due = (signs: SeparationInput['signs']) =>
      forecastSeparation(clutch({ today, together: 300, signs }))
    expect(due({ hasSizeGap: true }).dueOn! <= today).toBe(true)
    const [mixed, calm] = [due({ isMixed: true }), due({})]
    expect(mixed.perDayNow).toBeGreaterThan(calm.perDayNow)
    expect(mixed.dueOn! <= calm.dueOn!).toBe(true)
    expect(mixed.lateOn! < calm.lateOn!).toBe(true)
  })
})

describe('signs that a moult is near', () => {
  const half = dayOfShare(clutch(), 0.5)
  const factorOf = (sighting: ClutchSighting) => paceOfClutch(clutch({ sightings: [sighting] }))!.factor

  it('make a clutch quicker where it hangs before its time, and slower where it hangs after it', () => {
    expect(factorOf(hung(addDays(half, -4), 20))).toBeGreaterThan(1.05)
    expect(factorOf(hung(addDays(half, 5), 20))).toBeLessThan(0.95)
    expect(Math.abs(Math.log(factorOf(hung(half, 20))))).toBeLessThan(0.07)
  })

  it('refused food says less than hanging, and in the same direction', () => {
    const early = addDays(half, -5)
    const refused = factorOf(seen(early, 'none', { refusesFood: true }))
    expect(refused).toBeGreaterThan(factorOf(seen(early, 'none')))
    expect(refused).toBeLessThan(factorOf(seen(early, 'none', { hanging: 20 })))
  })

  it('wing buds are those of the last instar before the adult', () => {
    const shares = sharesByDay(clutch())
    const nearlyGrown = Array.from({ length: 160 }, (_, day) => addDays(HATCHED, day)).find(
      (on) => shares(on)[5]! > 0.3,
    )!
    const word = seen(addDays(nearlyGrown, -25), 'none', { number: 5 })
    expect(factorOf({ ...word, wingBuds: true })).toBeGreaterThan(factorOf(word))
  })

  it('keep the plan from those who hang until their skin is hard, and from nobody where few do', () => {
    const today = half
    const dates = Array.from({ length: 8 }, (_, day) => addDays(today, day))
    const blockedOf = (count: number, together: number) => {
      const input = clutch({ today, together, sightings: [hung(today, count)], history: steady(5) })
      return untouchableDays(input, dates)
    }
    const { until } = hangingOf([hung(today, 12)], { profile: profileOf('creobroter-spp'), today })!
    expect(until > addDays(today, 1)).toBe(true)
    expect(blockedOf(12, 12)).toEqual(dates.filter((on) => on < until))
    expect(blockedOf(5, 64)).toEqual([])
  })

  it('are told with the day on which it is over, and then no more', () => {
    const { reasons } = forecastSeparation(clutch({ today: half, sightings: [hung(half, 12)] }))
    expect(reasons.find(({ code }) => code === 'hanging')?.text).toMatch(/^12 hung for a moult/)
    expect(
      hangingOf([hung(half, 12)], { profile: profileOf('creobroter-spp'), today: addDays(half, 9) }),
    ).toBeNull()
    expect(
      hangingOf([hung(half, 12), hung(half, 0)], { profile: profileOf('creobroter-spp'), today: half }),
    ).toBeNull()
  })

  it('say nothing of hunger or size, which stand as they were seen before', () => {
    const before = seen(half, 'some', { hunger: true })
    expect(signsOf([before, hung(half, 12)], half)).toMatchObject({ isHungry: true, isMixed: true })
  })
})
