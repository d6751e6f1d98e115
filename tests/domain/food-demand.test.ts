import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { APPETITE_DEFAULTS, appetiteOf } from '@/lib/domain/food-demand/appetite'
import { caseLine } from '@/lib/domain/food-demand/case-lines'
import { foodDemand } from '@/lib/domain/food-demand/demand'
import { otherMouthDemand } from '@/lib/domain/food-demand/other-mouth'
import { DEFAULT_PREY_LINES, findPreyLine } from '@/lib/domain/prey/default-lines'
import type { RoomInput } from '@/lib/domain/room-forecast/input'
import { profileOf, steady } from '../cases/profile'

const TODAY = '2026-11-02'
const creobroter = profileOf('creobroter-spp')
const lines = ['melanogaster', 'hydei', 'house-fly', 'blue-bottle'].map((id) => findPreyLine(id)!)

function room(changes: Partial<RoomInput> = {}): RoomInput {
  return {
    today: TODAY,
    days: 56,
    species: [{ id: 'creobroter', profile: creobroter }],
    zones: [{ id: 'rack', history: steady(26) }],
    animals: [],
    groups: [],
    eggCases: [],
    sales: [],
    ...changes,
  }
}

const hatchlings = {
  speciesId: 'creobroter',
  zoneId: 'rack',
  clutchId: 'C-1',
  count: 60,
  ageEffectiveDays: 1,
}
const eggCase = {
  speciesId: 'creobroter',
  zoneId: 'rack',
  hatch: { laid: { kind: 'known' as const, on: addDays(TODAY, -20) } },
  nymphs: { mean: 30, variance: 150 },
}

describe('what an animal takes', () => {
  it('is its profile’s portion with the allowance once and without the days it fasts', () => {
    const { accepts } = appetiteOf(creobroter, { sex: 'unsexed', moults: 0, isAdult: false }, { lines })
    expect(accepts.map(({ line }) => line)).toEqual(['melanogaster'])
    const { fruitFlyAllowance, fastingShare } = APPETITE_DEFAULTS
    expect(accepts[0]!.itemsPerAnimalDay).toBeCloseTo(1.5 * (1 + fruitFlyAllowance) * (1 - fastingShare), 9)
  })

  it('counts one hydei as two and a half melanogaster where both fit', () => {
    const { accepts } = appetiteOf(creobroter, { sex: 'unsexed', moults: 2, isAdult: false }, { lines })
    const items = new Map(accepts.map(({ line, itemsPerAnimalDay }) => [line, itemsPerAnimalDay]))
    expect(items.get('melanogaster')! / items.get('hydei')!).toBeCloseTo(2.5, 6)
  })

  it('grows with the room’s own factor and never holds what the species avoids', () => {
    const animal = { sex: 'female' as const, moults: 7, isAdult: true }
    const orchid = profileOf('hymenopus-coronatus')
    const { accepts } = appetiteOf(orchid, animal, { lines: DEFAULT_PREY_LINES })
    expect(accepts.filter(({ line }) => line.startsWith('cricket'))).toEqual([])
    const twice = appetiteOf(orchid, animal, { lines: DEFAULT_PREY_LINES, settings: { factor: 2 } })
    expect(twice.accepts[0]!.itemsPerAnimalDay).toBeCloseTo(2 * accepts[0]!.itemsPerAnimalDay, 9)
  })
})

describe('what a room will want', () => {
  it('moves from class to class as the animals grow, and has a spread', () => {
    const { classes, demand, unfed } = foodDemand({ room: room({ groups: [hatchlings] }), lines })
    expect(unfed).toEqual([])
    const on = (day: number) => demand.filter((row) => row.on === addDays(TODAY, day))
    expect(on(0).reduce((sum, { animals }) => sum + animals, 0)).toBeCloseTo(60, 0)
    const takes = (id: string) => classes.find((each) => each.id === id)!.accepts[0]!.line
    expect(on(0).every((row) => takes(row.class) === 'melanogaster')).toBe(true)
    expect(on(50).some((row) => takes(row.class) !== 'melanogaster' && row.animals > 5)).toBe(true)
    expect(on(20).some(({ sd }) => (sd ?? 0) > 0.5)).toBe(true)
  })

  it('keeps each egg case as a hatch of its own, with the chance that it hatches', () => {
    const { hatches, demand } = foodDemand({
      room: room({ eggCases: [eggCase] }),
      eggCaseLabels: ['E-7'],
      lines,
    })
    expect(demand).toEqual([])
    expect(hatches).toHaveLength(1)
    const [hatch] = hatches
    expect(hatch).toMatchObject({ id: 'E-7', count: 30 })
    expect(hatch!.chance).toBeGreaterThan(0.3)
    expect(hatch!.chance).toBeLessThanOrEqual(1)
    expect(hatch!.sdDays).toBeGreaterThan(1)
    const hatchling = hatch!.needsByAgeDays.filter(({ fromDay }) => fromDay === 0)
    expect(hatchling.reduce((sum, { animals }) => sum + animals, 0)).toBeGreaterThan(0.9)
  })

  it('names the stages that no line feeds and plans for the rest', () => {
    const flies = lines.filter(({ id }) => id === 'melanogaster')
    const adult = {
      speciesId: 'creobroter',
      zoneId: 'rack',
      clutchId: null,
      sex: 'female' as const,
      moults: 7,
      isAdult: true,
      spentEffectiveDays: 5,
    }
    const { unfed, demand } = foodDemand({
      room: room({ animals: [adult], groups: [hatchlings] }),
      lines: flies,
    })
    expect(unfed.map(({ stage }) => stage)).toContain('adults')
    expect(demand.length).toBeGreaterThan(0)
  })

  it('adds other mouths on their days, and only of lines that are kept', () => {
    const box = { id: 'box', name: 'Weekly box', line: 'hydei', itemsEachTime: 200, weekdays: [4] }
    const lost = { ...box, id: 'frog', line: 'aphids' }
    const { classes, demand } = otherMouthDemand([box, lost], { from: TODAY, days: 14, lines })
    expect(classes.map(({ id }) => id)).toEqual(['mouth-box'])
    expect(demand.map(({ on, animals }) => [on, animals])).toEqual([
      ['2026-11-05', 200],
      ['2026-11-12', 200],
    ])
  })
})

describe('a prey line in a plan', () => {
  it('is a culture with the curve of its room, or something bought', () => {
    const culture = caseLine(findPreyLine('melanogaster')!, { temperatureC: 22 })
    expect(culture.kind === 'culture' && culture.curve.findIndex((share) => share > 0.01)).toBeGreaterThan(10)
    const bottle = caseLine(findPreyLine('blue-bottle')!, { temperatureC: 22 })
    expect(bottle).toMatchObject({ kind: 'bought', packSize: 200, keepDays: 14 })
    const sum = bottle.kind === 'bought' ? bottle.curve!.reduce((total, share) => total + share, 0) : 0
    expect(sum).toBeCloseTo(0.85, 2)
  })

  it('is not relied on where it is too warm for it', () => {
    const hot = caseLine(findPreyLine('melanogaster')!, { temperatureC: 30 })
    expect(hot.kind === 'culture' && hot.yield.crashChance).toBe(0.5)
  })
})
