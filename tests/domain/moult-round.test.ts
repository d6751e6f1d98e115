import { describe, expect, it } from 'vitest'
import { seenSince } from '@/lib/domain/individual/seen-since'
import { arrangeShelves } from '@/lib/domain/moult-round/shelf'

const cup = (id: string, zoneId: string | null, kindName = 'cup') => ({
  id,
  zoneId,
  kindName,
  containerId: id,
})

describe('the walk along the shelves', () => {
  it('goes zone by zone, groups first, kinds apart, cups as they were put up', () => {
    const cups = [cup('3', 'b'), cup('2', 'a', 'jar'), cup('1', 'a'), cup('0', 'a', 'jar'), cup('4', null)]
    const shelves = arrangeShelves({ cups, groups: [{ id: 'g', zoneId: 'b' }] }, ['a', 'b'])
    expect(
      shelves.map(({ zoneId, kindName, cups: there, groups }) => [
        zoneId,
        kindName,
        ...there.map(({ id }) => id),
        ...groups.map(({ id }) => id),
      ]),
    ).toEqual([
      ['a', 'cup', '1'],
      ['a', 'jar', '0', '2'],
      ['b', null, 'g'],
      ['b', 'cup', '3'],
      [null, 'cup', '4'],
    ])
  })

  it('leaves nobody out: a cup in a zone that is no longer there is walked past last', () => {
    const shelves = arrangeShelves({ cups: [cup('1', 'gone')], groups: [] }, ['a'])
    expect(shelves.flatMap(({ cups }) => cups).map(({ id }) => id)).toEqual(['1'])
  })

  it('cuts a long shelf into parts of nearly the same length', () => {
    const cups = Array.from({ length: 87 }, (_, index) => cup(String(index).padStart(3, '0'), 'a'))
    const shelves = arrangeShelves({ cups, groups: [] }, ['a'])
    expect(shelves.map(({ part }) => part)).toEqual([
      { from: 1, until: 29, of: 87 },
      { from: 30, until: 58, of: 87 },
      { from: 59, until: 87, of: 87 },
    ])
    expect(new Set(shelves.map(({ key }) => key)).size).toBe(3)
  })
})

describe('since when a moult may have happened', () => {
  const lookDays = ['2026-11-01', '2026-11-10', '2026-11-20']
  const since = (on: string, lastMoultOn: string | null = null, withinDays = 10) =>
    seenSince(on, { lookDays, lastMoultOn, withinDays })

  it('is the last look before the day, not one on it', () => {
    expect(since('2026-11-22')).toBe('2026-11-20')
    expect(since('2026-11-20')).toBe('2026-11-10')
  })

  it('is nothing where looks were not written down for long', () => {
    expect(since('2026-12-15')).toBeNull()
    expect(since('2026-12-15', null, 30)).toBe('2026-11-20')
    expect(seenSince('2026-11-22', { lookDays: [], lastMoultOn: null, withinDays: 10 })).toBeNull()
  })

  it('is never before the instar began', () => {
    expect(since('2026-11-22', '2026-11-21')).toBe('2026-11-21')
    expect(since('2026-11-22', '2026-11-22')).toBeNull()
  })
})
