import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import type { CultureLine, FoodCase, FoodLine } from '@/lib/domain/food-plan/case'
import { decideNear, type FoodPlan, type FoodPlanOptions, planFood } from '@/lib/domain/food-plan/plan'
import { listDecisions } from '@/lib/domain/food-plan/plan-week'
import { playScenario } from '@/lib/domain/food-plan/play'
import { buildFoodProgram } from '@/lib/domain/food-plan/program'
import { fix } from '@/lib/domain/food-plan/proof'
import { layOutRoom, type PlanRoom } from '@/lib/domain/food-plan/room'
import { openCosts, openSlopes } from '@/lib/domain/food-plan/slope'
import { listSlots } from '@/lib/domain/food-plan/slot'
import { seededStream } from '@/lib/domain/random/seeded'
import { solveProgram, solveSteps } from '@/lib/platform/solver'
import { drawFoodCase } from '../support/food-cases'
import { listPlanFaults } from '../support/food-plan-faults'
import { listOtherSolvers } from '../support/other-solver'

const LIMIT = { timeLimitMs: 60_000 }
const FROM = '2027-01-04'
const tinyCase = (changes: Partial<FoodCase> = {}): FoodCase => ({
  from: FROM,
  weeks: 3,
  lines: [
    {
      id: 'mel',
      kind: 'culture',
      yield: { mean: 60, cv: 0.5, crashChance: 0.1 },
      curve: [0, 0, 0, 0.1, 0.1, 0.2, 0.2, 0.1, 0.1, 0.1, 0.1],
      starters: 5,
      startCost: 80,
      starterCost: 40,
      dailyDeathRate: 0.1,
      discardAfterDays: 14,
    },
  ],
  classes: [{ id: 'small', shortageCost: 50, accepts: [{ line: 'mel', itemsPerAnimalDay: 1 }] }],
  demand: Array.from({ length: 21 }, (_, day) => ({
    class: 'small',
    on: addDays(FROM, day),
    animals: 6 + (day % 5),
    sd: 2,
  })),
  stock: [{ line: 'mel', count: 30 }],
  ...changes,
})
const answersFrom = 1

async function programCost(room: PlanRoom, wholeDays: number): Promise<number> {
  const answer = await solveProgram(buildFoodProgram(room, { wholeDays }).program, LIMIT)
  if (answer.status !== 'optimal') throw new Error(answer.status)
  return answer.cost
}

/** The cheapest of all whole counts up to a number, by playing each of them. */
function bestByTrying(room: PlanRoom, most: number): number {
  const costOf = openCosts(room)
  let best = Number.POSITIVE_INFINITY
  const tryFrom = (counts: number[]): void => {
    if (counts.length === room.slots.length) best = Math.min(best, costOf(counts))
    else for (let count = 0; count <= most; count += 1) tryFrom([...counts, count])
  }
  tryFrom([])
  return best
}

function planUnproven(foodCase: FoodCase, options: FoodPlanOptions): FoodPlan {
  const steps = planFood(foodCase, options)
  let step = steps.next()
  while (!step.done) step = steps.next({ status: 'timed-out', cost: Number.POSITIVE_INFINITY, values: null })
  return step.value
}

const randomCounts = (room: PlanRoom, seed: string) => {
  const stream = seededStream(seed)
  return room.slots.map((_, slot) => Math.min(room.most[slot]!, 6 * stream.uniform()))
}

describe('the program of a food plan', () => {
  it('is as cheap as the cheapest of all whole plans where every one is tried', async () => {
    // Hands take starters before they feed; without any, hands that look at today only feed as well as can be.
    const lines = tinyCase().lines.map((line) => ({ ...line, starters: 0 }))
    for (const seed of ['one', 'two', 'three']) {
      const room = layOutRoom(tinyCase({ lines, limits: { startsPerWeek: 5 } }), { scenarios: 4, seed })
      expect(await programCost(room, 21)).toBeCloseTo(bestByTrying(room, 5), 4)
    }
  })

  it('finds the same cost as solvers that share no code with ours', async ({ skip }) => {
    const others = listOtherSolvers()
    if (others.length === 0) skip('no other solver on this machine')
    const room = layOutRoom(drawFoodCase('other', { weeks: 3, lines: 2 }), {
      scenarios: 3,
      seed: 'x',
      answersFrom,
    })
    const { program } = buildFoodProgram(room, { wholeDays: 14 })
    const answer = await solveProgram(program, LIMIT)
    if (answer.status !== 'optimal') throw new Error(answer.status)
    for (const other of others) {
      const relative = Math.abs(other.solve(program) - answer.cost) / answer.cost
      expect(relative).toBeLessThan(2e-4)
    }
  })

  it('never costs more than the same starts fed by hands that look at today only', async () => {
    const room = layOutRoom(drawFoodCase('hands', { weeks: 4, lines: 4 }), {
      scenarios: 3,
      seed: 'x',
      answersFrom,
    })
    const { program, slotColumns } = buildFoodProgram(room, { wholeDays: 0 })
    for (const seed of ['one', 'two']) {
      const counts = randomCounts(room, seed)
      const answer = await solveProgram(fix(program, slotColumns, counts), LIMIT)
      expect(answer.status === 'optimal' && answer.cost).toBeLessThanOrEqual(openCosts(room)(counts) + 1e-3)
    }
  })

  it('costs no more with more shelf or more stock, and no less with more mouths', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 0, max: 1e6 }),
        fc.integer({ min: 1, max: 6 }),
        async (seed, places) => {
          const options = { scenarios: 4, seed: `${seed}`, batch: [2] }
          const cost = (changes: Partial<FoodCase>) => programCost(layOutRoom(tinyCase(changes), options), 14)
          const tight = await cost({ limits: { shelfPlaces: places } })
          expect(await cost({ limits: { shelfPlaces: places + 2 } })).toBeLessThanOrEqual(tight + 1e-4)
          const more = tinyCase().demand.map((row) => ({ ...row, animals: row.animals + 2 }))
          expect(await cost({ demand: more, limits: { shelfPlaces: places } })).toBeGreaterThanOrEqual(
            tight - 1e-4,
          )
        },
      ),
      { numRuns: 8 },
    )
  })
})

describe('the play that a plan is worked out on', () => {
  const room = layOutRoom(drawFoodCase('slopes', { weeks: 6, lines: 4 }), {
    scenarios: 4,
    seed: 'x',
    answersFrom,
  })
  const everyone = room.scenarios.map((_, scenario) => scenario)

  it('costs the same on flat arrays as step by step', () => {
    for (const seed of ['one', 'two', 'three']) {
      const counts = randomCounts(room, seed)
      const sum = everyone.reduce((total, scenario) => total + playScenario(room, scenario, counts).cost, 0)
      expect(openCosts(room)(counts) / (sum / everyone.length)).toBeCloseTo(1, 9)
      expect(openSlopes(room)(counts, everyone).cost / (sum / everyone.length)).toBeCloseTo(1, 9)
    }
  })

  it('changes with one more of a slot by what its slope says', () => {
    const counts = randomCounts(room, 'slope')
    const { slope } = openSlopes(room)(counts, everyone)
    const step = 1e-5
    const costOf = openCosts(room)
    for (let slot = 0; slot < counts.length; slot += 3) {
      const [up, down] = [step, -step].map((by) => costOf(counts.with(slot, counts[slot]! + by)))
      const measured = (up! - down!) / (2 * step)
      expect(Math.abs(measured - slope[slot]!)).toBeLessThan(1e-3 * Math.max(100, Math.abs(measured)))
    }
  })
})

describe('order days', () => {
  const pupae: FoodLine = {
    id: 'pupae',
    kind: 'bought',
    packSize: 200,
    packCost: 450,
    leadDays: 3,
    keepDays: 14,
    orderWeekdays: [1, 2, 3, 4, 5],
    ordersPerWeek: 1,
  }
  const daysOf = (changes: Partial<FoodCase>, line: FoodLine = pupae) =>
    listSlots({ ...tinyCase(changes), lines: [line], classes: [] }, [line], 21).map(({ day }) => day)

  it('are one a week for what keeps, the first that the supplier is open, and two for what does not', () => {
    expect(daysOf({})).toEqual([0, 7, 14])
    expect(daysOf({ limits: { supplierClosedDays: ['2027-01-11'] } })).toEqual([0, 8, 14])
    expect(daysOf({}, { ...pupae, ordersPerWeek: 2 })).toEqual([0, 3, 7, 10, 14, 17])
  })

  it('stay where they are when the plan is made again in the middle of a week', () => {
    const from = '2027-01-06'
    const deliveries = [{ line: 'pupae', on: '2027-01-07', count: 200 }]
    expect(daysOf({ from, demand: [] })).toEqual([0, 5, 12])
    expect(daysOf({ from, demand: [], deliveries })).toEqual([5, 12])
  })
})

describe('what a plan has to leave out', () => {
  it('is said by name, and nothing is started of what gives nothing', () => {
    const [line] = tinyCase().lines as [CultureLine]
    const barren = { ...line, name: 'tired flies', yield: { ...line.yield, mean: 0 } }
    const unfed = [{ species: 'Creobroter gemmatus', stage: 'adults', animals: 3.2 }]
    const plan = planUnproven({ ...tinyCase({ lines: [barren] }), unfed }, { steps: 10, scenarios: 4 })
    expect(plan.notes[0]).toContain('Creobroter gemmatus, adults (up to 4 of them)')
    expect(plan.notes[1]).toContain('tired flies')
    expect(plan.weeks.flatMap(({ starts }) => starts)).toEqual([])
  })
})

describe('a plan with nothing to decide', () => {
  it('is there all the same, and no other could be cheaper', async () => {
    const empty = tinyCase({ lines: [], classes: [], demand: [], stock: [] })
    const plan = await solveSteps(planFood(empty), LIMIT)
    expect(plan).toMatchObject({ status: 'optimal', gap: 0, cost: 0 })
    expect(plan.weeks).toHaveLength(3)
    const closed = Array.from({ length: 21 }, (_, day) => addDays(FROM, day))
    const away = await solveSteps(planFood(tinyCase({ limits: { closedDays: closed } })), LIMIT)
    expect(away.gap).toBe(0)
    expect(away.weeks.every(({ expectedShortage }) => expectedShortage.length === 1)).toBe(true)
  })
})

describe('a food plan', () => {
  it('keeps every limit, order day and whole number, on any case', () => {
    for (const seed of ['a', 'b', 'c']) {
      const drawn = drawFoodCase(seed, { weeks: 5, lines: 3 })
      const limits = {
        shelfPlaces: 40,
        startsPerWeek: 7,
        startWeekdays: [1, 4],
        closedDays: [addDays(FROM, 3)],
      }
      const foodCase = { ...drawn, limits, cultures: drawn.cultures!.map((each) => ({ ...each, count: 1 })) }
      const plan = planUnproven(foodCase, { steps: 40, scenarios: 8 })
      expect(listPlanFaults(foodCase, plan)).toEqual([])
    }
  })

  it('does on its first day what is judged on seasons, however far it looks', () => {
    const foodCase = drawFoodCase('same', { weeks: 10, lines: 2 })
    const options = { steps: 30, scenarios: 16 }
    const { room, counts } = decideNear(foodCase, options)
    const judged = listDecisions(room, counts)
      .filter(({ slot }) => slot.day === 0)
      .map(({ slot, count }) => ({ line: room.lines[slot.line]!.id, count }))
    const [week] = planUnproven(foodCase, options).weeks
    const first = [
      ...week!.starts.map(({ line, count, on }) => ({ line, count, on })),
      ...week!.purchases.map(({ line, packs, orderOn }) => ({ line, count: packs, on: orderOn })),
    ].filter(({ on }) => on === foodCase.from)
    expect(judged.length).toBeGreaterThan(0)
    expect(first.map(({ line, count }) => ({ line, count }))).toEqual(judged)
  })

  it('proves how far it can be from the best one', async () => {
    const plan = await solveSteps(planFood(tinyCase(), { steps: 80 }), { timeLimitMs: 20_000 })
    expect(plan.gap).toBeGreaterThanOrEqual(0)
    expect(plan.gap).toBeLessThan(0.5)
    expect(plan.status === 'optimal').toBe(plan.gap! <= 0.01)
  })

  it('does not depend on the order of its rows, and says so when its time is up', () => {
    const drawn = drawFoodCase('order', { weeks: 4, lines: 2 })
    const options = { steps: 20, scenarios: 8, mayGoOn: () => false }
    const plan = planUnproven(drawn, options)
    const turned = { ...drawn, demand: [...drawn.demand].reverse(), hatches: [...drawn.hatches!].reverse() }
    const other = planUnproven(turned, options)
    expect(plan.status).toBe('timed-out')
    expect(other.cost / plan.cost).toBeCloseTo(1, 9)
    expect(other.weeks.map(({ starts }) => starts)).toEqual(plan.weeks.map(({ starts }) => starts))
  })
})
