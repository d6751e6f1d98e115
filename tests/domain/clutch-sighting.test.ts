import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { forecastSeparation, paceOfClutch, sharesByDay } from '@/lib/domain/separation/deadline'
import type { SeparationInput } from '@/lib/domain/separation/input'
import {
  type ClutchSighting,
  likelyMoultNumber,
  type MoultedShare,
  signsOf,
} from '@/lib/domain/separation/sighting'
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
const seen = (on: string, moulted: MoultedShare, more: Partial<ClutchSighting> = {}): ClutchSighting => ({
  on,
  moulted,
  number: 1,
  sizeGap: false,
  hunger: false,
  ...more,
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
