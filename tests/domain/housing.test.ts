import { describe, expect, test } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { housingNeed } from '@/lib/domain/care-sheet/housing'
import { forecastNextMoult } from '@/lib/domain/development/forecast'
import { containerOutlook, shoppingList } from '@/lib/domain/housing/container-week'
import { fits, fittingKinds } from '@/lib/domain/housing/fitting'
import { containerChanges, type GrowingAnimal, moveUpOf } from '@/lib/domain/housing/move-up'
import { profileOf } from '../cases/profile'

const TODAY = '2026-11-25'
const profile = profileOf('hymenopus-coronatus')
const kind = (id: string, innerHeightMm: number, innerWidthMm: number) => ({
  id,
  innerHeightMm,
  innerWidthMm,
  single: true,
})
const KINDS = [
  kind('cup', 62, 58),
  kind('large cup', 90, 76),
  kind('jar', 165, 98),
  kind('cage', 300, 200),
  { ...kind('box', 300, 200), single: false },
]

/** A female in the middle of an instar. */
function animal(moults: number, changes: Partial<GrowingAnimal> = {}): GrowingAnimal {
  const nextMoult = forecastNextMoult({
    profile,
    sex: 'female',
    moults,
    instarStartedOn: addDays(TODAY, -4),
    history: [{ from: '2026-01-01', until: null, dayC: 27 }],
    today: TODAY,
  })
  return {
    id: 'one',
    profile,
    sex: 'female',
    moults,
    isAdult: false,
    nextMoult,
    softUntil: null,
    isInWindow: false,
    kindId: 'cup',
    ...changes,
  }
}

describe('kinds that fit an animal', () => {
  test('are high and wide enough, smallest first, and never so large that prey is lost in them', () => {
    const young = fittingKinds(KINDS, profile, { sex: 'female', moults: 0 })
    expect(young.map(({ id }) => id)).toEqual(['cup', 'large cup'])
    const adult = fittingKinds(KINDS, profile, { sex: 'female', moults: 7, isAdult: true })
    expect(adult.map(({ id }) => id)).toEqual(['cage'])
  })

  test('leave the smallest that is large enough, however large it is', () => {
    expect(fittingKinds([kind('cage', 300, 200)], profile, { sex: 'female', moults: 0 })).toHaveLength(1)
  })
})

describe('an animal moves up', () => {
  test('not while its container will do after the next moult too', () => {
    expect(moveUpOf(animal(0), KINDS, TODAY)).toBeNull()
  })

  test('before the window of the moult that makes its container too small', () => {
    const grown = [1, 2, 3, 4, 5].map((moults) => moveUpOf(animal(moults), KINDS, TODAY)).find((move) => move)
    expect(grown).toMatchObject({ urgency: 'before-moult' })
    const forecast = grown?.animal.nextMoult
    expect(forecast?.status === 'forecast' && grown?.lastSafeOn).toBe(
      forecast?.status === 'forecast' ? addDays(forecast.p10, -1) : '',
    )
    const next = grown?.nextNeed
    expect(next && grown?.to && fits(grown.to, next)).toBe(true)
  })

  test('at once when it is too small already, but not while it is soft', () => {
    expect(moveUpOf(animal(6), KINDS, TODAY)).toMatchObject({
      urgency: 'now',
      to: { id: 'cage' },
      notBefore: null,
    })
    expect(moveUpOf(animal(6, { softUntil: '2026-11-27' }), KINDS, TODAY)?.notBefore).toBe('2026-11-27')
  })

  test('not without a container of its own, and says when no kind is large enough', () => {
    expect(moveUpOf(animal(6, { kindId: null }), KINDS, TODAY)).toBeNull()
    expect(moveUpOf(animal(6), [kind('cup', 62, 58)], TODAY)?.to).toBeNull()
  })

  test('through every container it needs until a day, each in turn, and seldomer the later', () => {
    const span = { today: TODAY, until: addDays(TODAY, 200), effectiveDaysPerDay: 1 }
    const changes = containerChanges(animal(1), KINDS, span)
    expect(changes.at(-1)?.toKindId).toBe('cage')
    changes.slice(1).forEach((change, place) => {
      expect(change.fromKindId).toBe(changes[place]?.toKindId)
      expect(change.on > (changes[place]?.on ?? '')).toBe(true)
      expect(change.animals).toBeLessThan(changes[place]?.animals ?? 0)
    })
    const need = housingNeed(profile, { sex: 'female', moults: 7, isAdult: true })
    expect(fits(KINDS.find(({ id }) => id === changes.at(-1)?.toKindId)!, need)).toBe(true)
  })

  test('not at all where it is too cold to grow', () => {
    const cold = animal(1, { nextMoult: null })
    expect(
      containerChanges(cold, KINDS, { today: TODAY, until: '2027-12-01', effectiveDaysPerDay: 0 }),
    ).toEqual([])
  })
})

describe('containers week by week', () => {
  const question = {
    kinds: [
      { id: 'cup', free: 4, ordered: [{ on: addDays(TODAY, 15), count: 10 }] },
      { id: 'jar', free: 1, ordered: [] },
    ],
    changes: [
      { on: addDays(TODAY, 2), fromKindId: 'cup', toKindId: 'jar', animals: 1 },
      { on: addDays(TODAY, 9), fromKindId: 'cup', toKindId: 'jar', animals: 0.9 },
    ],
    parting: [{ on: addDays(TODAY, 8), toKindId: 'cup', animals: 12 }],
    from: TODAY,
    weeks: 3,
  }

  test('are what is free, given free and on order less what is wanted', () => {
    const [cup, jar] = containerOutlook(question)
    expect(cup?.weeks.map(({ free }) => Number(free.toFixed(1)))).toEqual([5, -6.1, 3.9])
    expect(jar?.weeks.map(({ free }) => Number(free.toFixed(1)))).toEqual([0, -0.9, -0.9])
  })

  test('give a shopping list of what is missing at the worst, by the first day it is', () => {
    expect(shoppingList(question)).toEqual([
      { kindId: 'cup', count: 7, by: addDays(TODAY, 8) },
      { kindId: 'jar', count: 1, by: addDays(TODAY, 9) },
    ])
    const stocked = { ...question, kinds: question.kinds.map((each) => ({ ...each, free: 100 })) }
    expect(shoppingList(stocked)).toEqual([])
  })
})
