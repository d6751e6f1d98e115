import { describe, expect, it } from 'vitest'
import { describeChange } from '@/lib/domain/audit/wording'

const mara = '019a1383-dc00-7c94-9f37-531df105999b'
const words = { nameOfPerson: new Map([[mara, 'Mara Lindqvist']]), currency: 'EUR' }

const recorded = (tableName: string, after: Record<string, unknown>) =>
  describeChange({ tableName, change: 'insert', before: null, after }, words)

describe('what was done, in words', () => {
  it('names the person behind an id and leaves out every other id', () => {
    const { what, details } = recorded('harvest', {
      on: '2026-11-27',
      count: 80,
      harvested_by: mara,
      replaced_by: '019a1383-dc00-7567-8883-b7b545d0b367',
    })
    expect(what).toBe('Harvest recorded')
    expect(details).toEqual(['on: 27 Nov 2026', 'count: 80', 'harvested by: Mara Lindqvist'])
  })

  it('writes money in the currency of the workspace and units beside their values', () => {
    expect(recorded('prey_order', { packs: 3, cost_minor: 1350, weekdays: [2, 5] }).details).toEqual([
      'packs: 3',
      'cost: €13.50',
      'weekdays: Tue, Fri',
    ])
    expect(recorded('zone_set_point', { day_c: 28, night_c: 24.5 }).details).toEqual([
      'day: 28 °C',
      'night: 24.5 °C',
    ])
  })

  it('says of a change only what is different now', () => {
    const before = { name: 'Warm shelf', low_c: 20, high_c: 31, quarantine_until: null }
    const after = { ...before, high_c: 32, quarantine_until: '2026-12-03' }
    expect(describeChange({ tableName: 'zone', change: 'update', before, after }, words)).toEqual({
      what: 'Zone Warm shelf changed',
      details: ['high: 31 °C → 32 °C', 'quarantine until: nothing → 3 Dec 2026'],
    })
  })
})
