import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { emergenceCurve, fridgeShare, pupaeCurve } from '@/lib/domain/culture/emergence'
import { type CultureRecord, learnLine } from '@/lib/domain/culture/learning'
import { type Jar, listCleanJars, listSuspects, saySuspicion } from '@/lib/domain/culture/mites'
import { type CultureLaw, cultureFutures, expectedHarvests } from '@/lib/domain/culture/running'
import { DEFAULT_PREY_LINES, findPreyLine } from '@/lib/domain/prey/default-lines'
import { listPreyValues, withPreyValue } from '@/lib/domain/prey/edit-line'
import type { CultureSupply, PupaeSupply } from '@/lib/domain/prey/line'
import { seededStream } from '@/lib/domain/random/seeded'
import { HYDEI_SHARES, MELANOGASTER_SHARES } from '../cases/food-shares'

function culture(id: string): CultureSupply {
  const supply = findPreyLine(id)?.supply
  if (supply?.kind !== 'culture') throw new Error(`${id} is no culture`)
  return supply
}

function pupae(id: string): PupaeSupply {
  const supply = findPreyLine(id)?.supply
  if (supply?.kind !== 'pupae') throw new Error(`${id} is not bought as pupae`)
  return supply
}

const curve = emergenceCurve(culture('melanogaster').curve.value, { temperatureC: 24.5, days: 80 })
const law: CultureLaw = { curve, mean: 400, cv: 0.35, crashChance: 0.05, crashShare: 0.1, delayCv: 0.05 }
const STARTED = '2026-11-01'

/** Harvests of a culture that gives so many flies in all, so many days late. */
function harvests(total: number, { until = 40, late = 0, every = 1 } = {}) {
  return Array.from({ length: Math.floor(until / every) }, (_, turn) => {
    const days = Array.from({ length: every }, (__, day) => turn * every + day - late)
    const count = days.reduce((sum, day) => sum + total * (curve[day] ?? 0), 0)
    return { on: addDays(STARTED, turn * every + every - 1), count: Math.round(count) }
  }).filter(({ count }) => count > 0)
}

const expectedTotal = (futures: { total: number; weight: number }[]) =>
  futures.reduce((sum, { total, weight }) => sum + total * weight, 0)

describe('the flies of a culture over its days', () => {
  it('come as the trade gives them for melanogaster at 24.5 °C', () => {
    MELANOGASTER_SHARES.shares.forEach((share, index) => {
      expect(Math.abs(curve[MELANOGASTER_SHARES.firstDay + index]! - share)).toBeLessThan(0.001)
    })
  })

  it('come as the trade gives them for hydei, whose list is of its thirty days only', () => {
    const all = emergenceCurve(culture('hydei').curve.value, { temperatureC: 24.5, days: 90 })
    const { firstDay, shares } = HYDEI_SHARES
    const listed = all.slice(firstDay, firstDay + shares.length)
    const sum = listed.reduce((total, share) => total + share, 0)
    listed.forEach((share, index) => {
      expect(Math.abs(share / sum - shares[index]!)).toBeLessThan(0.001)
    })
  })

  it('come later in a cooler room and never below the threshold', () => {
    const cool = emergenceCurve(culture('melanogaster').curve.value, { temperatureC: 20, days: 80 })
    const first = (shares: number[]) => shares.findIndex((share) => share > 0.005)
    expect(first(cool)).toBeGreaterThan(first(curve) + 3)
    expect(emergenceCurve(culture('melanogaster').curve.value, { temperatureC: 9, days: 30 })).toEqual(
      Array.from({ length: 30 }, () => 0),
    )
  })

  it('add up to all of them', () => {
    expect(curve.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 3)
  })
})

describe('a running culture', () => {
  it('is what its line is as long as nobody has harvested', () => {
    const mean = expectedTotal(cultureFutures({ startedOn: STARTED }, law))
    expect(mean).toBeGreaterThan(0.93 * 400 * 0.955)
    expect(mean).toBeLessThan(1.03 * 400 * 0.955)
  })

  it('is expected to give what its harvests so far say', () => {
    for (const total of [230, 400, 750]) {
      const futures = cultureFutures({ startedOn: STARTED, harvested: harvests(total, { until: 22 }) }, law)
      expect(expectedTotal(futures) / total).toBeGreaterThan(0.8)
      expect(expectedTotal(futures) / total).toBeLessThan(1.2)
    }
  })

  it('is taken for crashed when nothing comes where much should have', () => {
    const seen = { startedOn: STARTED, harvested: [{ on: addDays(STARTED, 18), count: 9 }] }
    expect(expectedTotal(cultureFutures(seen, law))).toBeLessThan(80)
    expect(expectedTotal(cultureFutures({ startedOn: STARTED, hasCrashed: true }, law))).toBeCloseTo(40, 6)
  })

  it('gives in the days to come what it has not given yet', () => {
    const known = { startedOn: STARTED, harvested: harvests(400, { until: 15 }) }
    const left = expectedHarvests(known, law, { from: addDays(STARTED, 15), days: 60 })
    const given = known.harvested.reduce((sum, { count }) => sum + count, 0)
    expect(given + left.reduce((sum, mean) => sum + mean, 0)).toBeGreaterThan(330)
    expect(given + left.reduce((sum, mean) => sum + mean, 0)).toBeLessThan(470)
  })
})

describe('what a line does in one room is learned', () => {
  const record = (total: number, more: Partial<CultureRecord> = {}, late = 0): CultureRecord => ({
    startedOn: STARTED,
    endedOn: addDays(STARTED, 39),
    harvested: harvests(total, { late, every: 2 }),
    ...more,
  })

  it('stays at the default without records', () => {
    const learned = learnLine([], law)
    expect(learned.mean).toBeCloseTo(400, 6)
    expect(learned.cv).toBeCloseTo(0.35, 6)
    expect(learned).toMatchObject({ crashChance: 0.05, delayFactor: 1, cultures: 0 })
  })

  it('finds mean, spread, delay and crashes of a room that differs from the default', () => {
    const stream = seededStream('learned room')
    const records = Array.from({ length: 80 }, () =>
      stream.chance(0.2) ? record(40) : record(600 * stream.gamma(11, 1 / 11), {}, 2),
    )
    const learned = learnLine(records, law)
    expect(learned.mean / 600).toBeGreaterThan(0.92)
    expect(learned.mean / 600).toBeLessThan(1.08)
    expect(learned.cv).toBeGreaterThan(0.22)
    expect(learned.cv).toBeLessThan(0.4)
    expect(learned.crashChance).toBeGreaterThan(0.1)
    expect(learned.delayFactor).toBeGreaterThan(1.06)
    expect(learned.delayFactor).toBeLessThan(1.2)
  })

  it('takes no lesson from suspect jars or from those just begun', () => {
    const young = record(100, { endedOn: addDays(STARTED, 9) })
    expect(learnLine([record(30, { isSuspect: true }), young], law).cultures).toBe(0)
    expect(learnLine([young], { ...law, mean: 0 }).mean).toBe(0)
  })
})

describe('mites in one jar', () => {
  const jar = (id: string, changes: Partial<Jar> = {}): Jar => ({
    id,
    shelf: 'A',
    startersFrom: null,
    startedOn: '2026-10-20',
    mitesOn: null,
    ...changes,
  })
  const jars = [
    jar('M-1', { mitesOn: '2026-11-10' }),
    jar('M-2'),
    jar('M-3', { shelf: 'B', startersFrom: 'M-1' }),
    jar('M-4', { shelf: 'B' }),
  ]

  it('put it, its shelf and its starters under suspicion for thirty days', () => {
    const suspects = listSuspects(jars, '2026-11-12')
    expect(suspects.map(({ jar: id, because }) => [id, because])).toEqual([
      ['M-1', 'marked'],
      ['M-2', 'shelf'],
      ['M-3', 'starters'],
    ])
    expect(suspects[0]!.until).toBe('2026-12-10')
    expect(listSuspects(jars, '2026-12-11')).toEqual([])
    expect(listSuspects(jars, '2026-11-09')).toEqual([])
    expect(saySuspicion(suspects[1]!)).toContain('shared a shelf with M-1')
  })

  it('leave only clean jars to give starters', () => {
    expect(listCleanJars(jars, '2026-11-12').map(({ id }) => id)).toEqual(['M-4'])
  })
})

describe('bought pupae', () => {
  it('emerge two to seven days after warming, later where it is cool', () => {
    const warm = pupaeCurve(pupae('blue-bottle'), { temperatureC: 24, days: 20 })
    const inWindow = warm.slice(2, 7).reduce((sum, share) => sum + share, 0)
    expect(inWindow).toBeGreaterThan(0.75)
    const middle = (shares: number[]) => shares.reduce((sum, share, day) => sum + share * day, 0)
    expect(middle(pupaeCurve(pupae('blue-bottle'), { temperatureC: 18, days: 30 }))).toBeGreaterThan(
      middle(warm) + 1,
    )
  })

  it('keep in the fridge for their weeks and then fade', () => {
    expect(fridgeShare(pupae('blue-bottle'), 14)).toBe(1)
    expect(fridgeShare(pupae('blue-bottle'), 21)).toBeCloseTo(0.5, 6)
    expect(fridgeShare(pupae('house-fly'), 15)).toBe(0)
  })
})

describe('the table of prey', () => {
  it('says of every figure where it comes from, and takes a room’s own', () => {
    for (const line of DEFAULT_PREY_LINES) {
      const values = listPreyValues(line)
      expect(values.length).toBeGreaterThan(7)
      for (const { source } of values) expect(['default', 'published']).toContain(source.kind)
      const path = 'supply.dailyDeathRate'
      const own = withPreyValue(line, path, { value: 0.2, note: 'weighed' })
      expect(own && listPreyValues(own).find((each) => each.path === path)).toMatchObject({
        value: 0.2,
        source: { kind: 'own', note: 'weighed' },
      })
      expect(withPreyValue(line, path, { value: 'many', note: '' })).toBeNull()
      expect(withPreyValue(line, 'supply.colour', { value: 1, note: '' })).toBeNull()
    }
  })

  it('has every item that a care profile feeds', () => {
    const items = [
      'melanogaster',
      'hydei',
      'house-fly',
      'bottle-fly',
      'micro-cricket',
      'small-cricket',
      'medium-cricket',
      'moth',
      'locust-hopper',
      'roach-nymph',
    ]
    for (const item of items)
      expect(
        DEFAULT_PREY_LINES.filter((line) => line.standsFor.value.some((each) => each.item === item)).length,
      ).toBeGreaterThan(0)
    expect(new Set(DEFAULT_PREY_LINES.map(({ id }) => id)).size).toBe(DEFAULT_PREY_LINES.length)
  })
})
