import { beforeAll, describe, expect, test } from 'vitest'
import { POST } from '@/app/api/v1/food-plans/route'
import { addDays } from '@/lib/domain/calendar/date'
import type { FoodPlanWeek } from '@/lib/domain/food-plan/plan-week'
import { requireDatabase } from '@/tests/support/database'
import { drawFoodCase } from '@/tests/support/food-cases'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Live food')
})

const FROM = '2027-01-04'
const melanogaster = {
  id: 'mel',
  kind: 'culture',
  yield: { mean: 350, cv: 0.35, crashChance: 0.05 },
  curve: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1],
  starters: 40,
  startCost: 100,
  dailyDeathRate: 0.1,
  starterCost: 300,
  discardAfterDays: 35,
  minimumBatches: 0,
}
const bottle = { id: 'bottle', kind: 'bought', packSize: 100, packCost: 350, leadDays: 3, keepDays: 10 }
const small = { id: 'small', shortageCost: 200, accepts: [{ line: 'mel', itemsPerAnimalDay: 2 }] }
const large = { id: 'large', shortageCost: 100, accepts: [{ line: 'bottle', itemsPerAnimalDay: 0.7 }] }

const steady = (id: string, animals: number, days = 42) =>
  Array.from({ length: days }, (_, day) => ({
    class: id,
    on: addDays(FROM, day),
    animals,
    sd: 0.1 * animals,
  }))

const CASE = {
  lines: [melanogaster, bottle],
  classes: [small, large],
  demand: [...steady('small', 60), ...steady('large', 40)],
  stock: [{ line: 'mel', count: 300 }],
  cultures: [
    { line: 'mel', startedOn: '2026-12-21', harvested: [{ on: '2027-01-02', count: 45 }] },
    { line: 'mel', startedOn: '2026-12-28', count: 2 },
  ],
  limits: { shelfPlaces: 60, startsPerWeek: 40 },
}

const ask = (changes: object = {}, more: object = {}) =>
  callApi(POST, {
    token: rack.token,
    body: { from: FROM, weeks: 6, serviceLevel: 0.95, case: { ...CASE, ...changes }, ...more },
  })
const refused = async (changes: object, more: object = {}) => {
  const answer = await ask(changes, more)
  expect(answer.status).toBe(422)
  return answer.body.errors as { path: string; message: string }[]
}

describe('a food plan for a posted case, over the API', () => {
  test('says week by week what to start and buy, for whom, and what may be short', async () => {
    const hatch = {
      id: 'E-12',
      on: '2027-01-20',
      sdDays: 4,
      count: 70,
      cv: 0.4,
      chance: 0.9,
      needsByAgeDays: [{ class: 'small', fromDay: 0, animals: 1 }],
    }
    const { status, body } = await ask({ hatches: [hatch] })
    expect(status).toBe(201)
    expect(['optimal', 'feasible', 'timed-out']).toContain(body.status)
    expect(body.weeks.map(({ week }: FoodPlanWeek) => week)).toEqual([1, 2, 3, 4, 5, 6])
    const weeks: FoodPlanWeek[] = body.weeks
    const started = weeks.flatMap(({ starts }) => starts)
    expect(started.filter(({ line }) => line === 'mel').length).toBeGreaterThan(0)
    const packs = weeks.flatMap(({ purchases }) => purchases)
    expect(packs.every(({ line, packs: count }) => line === 'bottle' && Number.isInteger(count))).toBe(true)
    // 40 animals at 0.7 a day for six weeks, less what keeps: at least nine packs of a hundred.
    expect(packs.reduce((sum, { packs: count }) => sum + count, 0)).toBeGreaterThan(9)
    expect(weeks.flatMap(({ reasons }) => reasons).some((reason) => reason.includes('E-12'))).toBe(true)
    expect(weeks[0]!.reasons.some((reason) => /weeks? \d/.test(reason))).toBe(true)
    const due = weeks.flatMap(({ discards }) => discards)
    expect(due).toContainEqual({ line: 'mel', count: 1, on: '2027-01-25', startedOn: '2026-12-21' })
  })

  test('gives the same answer for the same case in any order of its rows', async () => {
    const [first, second] = [await ask(), await ask({ demand: [...CASE.demand].reverse() })]
    expect(second.body.weeks[0]).toEqual(first.body.weeks[0])
  })

  test('refuses what cannot be right, each with its path', async () => {
    expect(await refused({ stock: [{ line: 'mel', count: -3 }] })).toEqual([
      { path: 'case.stock.0.count', message: 'Not below nothing.' },
    ])
    const tomorrow = [{ line: 'mel', startedOn: '2027-01-05' }]
    expect((await refused({ cultures: tomorrow }))[0]!.path).toBe('case.cultures.0.startedOn')
    const barren = { ...melanogaster, yield: { ...melanogaster.yield, mean: 0 } }
    expect((await refused({ lines: [barren, bottle] }))[0]).toMatchObject({ path: 'case.lines.0.yield.mean' })
    const never = { ...melanogaster, curve: [0, 0, 0] }
    expect((await refused({ lines: [never, bottle] }))[0]).toMatchObject({ path: 'case.lines.0.curve' })
    expect((await refused({ lines: [bottle] })).map(({ path }) => path)).toContain(
      'case.classes.0.accepts.0.line',
    )
    expect((await refused({ colour: 'green' }))[0]!.path).toBe('case.colour')
    expect((await refused({}, { weeks: 27 }))[0]!.path).toBe('weeks')
    expect((await refused({ demand: [{ class: 'giant', on: FROM, animals: 1 }] }))[0]).toEqual({
      path: 'case.demand.0.class',
      message: 'There is no class giant in this case.',
    })
  })

  test('plans for the rest where a class has no line or there is no shelf, and says so', async () => {
    const mothEaters = [{ class: 'moth eaters', on: FROM, animals: 5 }]
    const moth = { id: 'moth eaters', shortageCost: 100, accepts: [] }
    const unfed = await ask({
      classes: [small, large, moth],
      demand: [...CASE.demand, ...mothEaters],
    })
    expect(unfed.status).toBe(201)
    expect(unfed.body.notes[0]).toContain('moth eaters')
    expect(unfed.body.weeks[0].starts.length).toBeGreaterThan(0)
    const short = unfed.body.weeks[0].expectedShortage.find(
      (row: { class: string }) => row.class === 'moth eaters',
    )
    expect(short).toEqual({ class: 'moth eaters', animalDays: 5, chanceMet: 0 })
    const noShelf = await ask({ cultures: [], limits: { shelfPlaces: 0 } })
    expect(noShelf.status).toBe(201)
    expect(noShelf.body.notes[0]).toContain('no shelf place')
    expect(noShelf.body.weeks.every(({ starts }: FoodPlanWeek) => starts.length === 0)).toBe(true)
    expect(noShelf.body.weeks[0].purchases.length).toBeGreaterThan(0)
  })

  test('names what cannot be fed and the cheapest way out of it', async () => {
    const hungry = [...steady('small', 60), ...steady('large', 40)].map((row) => ({ ...row, sd: 0 }))
    const hatch = {
      id: 'E-7',
      on: '2027-01-06',
      sdDays: 1,
      count: 300,
      chance: 1,
      needsByAgeDays: [{ class: 'small', fromDay: 0, animals: 1 }],
    }
    const { body } = await ask({ demand: hungry, hatches: [hatch], cultures: [] })
    const note = body.notes.find((each: string) => each.includes('small'))
    expect(note).toMatch(/^About \d+ animal-days of small cannot be fed in weeks? \d/)
    expect(note).toContain('E-7')
  })

  test('answers ten thousand rows of demand and the longest case there is', async () => {
    const rows = Array.from({ length: 10_000 }, (_, row) => ({
      class: row % 2 === 0 ? 'small' : 'large',
      on: addDays(FROM, row % 42),
      animals: 0.4,
      sd: 0.1,
    }))
    expect((await ask({ demand: rows })).status).toBe(201)
    const { from, weeks, ...posted } = drawFoodCase('long', { weeks: 26, lines: 8 })
    const long = await callApi(POST, { token: rack.token, body: { from, weeks, case: posted } })
    expect(long.status).toBe(201)
    expect(long.body.weeks).toHaveLength(26)
  })
})
