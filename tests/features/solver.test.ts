import { describe, expect, it } from 'vitest'
import { type DemandInput, FOOD_DEMAND, foodDemand, foodDemandSteps } from '@/lib/domain/food-demand/demand'
import { findPreyLine } from '@/lib/domain/prey/default-lines'
import { type LinearProgram, programBuilder } from '@/lib/domain/program/linear'
import { seededStream } from '@/lib/domain/random/seeded'
import { solveProgram, workOut } from '@/lib/platform/solver'
import { profileOf, steady } from '@/tests/cases/profile'

/** Two cultures share flies and hours: 3 a + 5 b at most, as a textbook's smallest program. */
function smallProgram(): LinearProgram {
  const builder = programBuilder()
  const a = builder.addColumn({ cost: -3, upper: 4 })
  const b = builder.addColumn({ cost: -5 })
  builder.addRow([[b, 2]], { upper: 12 })
  builder.addRow(
    [
      [a, 3],
      [b, 2],
    ],
    { upper: 18 },
  )
  return builder.build()
}

/** A knapsack of many near-equal things: easy to answer, long to prove. */
function hardProgram(things: number): LinearProgram {
  const stream = seededStream('hard')
  const builder = programBuilder()
  const columns = Array.from({ length: things }, () =>
    builder.addColumn({ cost: -1 - stream.uniform() / 50, upper: 1, isWhole: true }),
  )
  for (let row = 0; row < 30; row += 1) {
    const weights = columns.map((column) => [column, 1000 + stream.integer(0, 400)] as const)
    builder.addRow(weights, { upper: 600 * things })
  }
  return builder.build()
}

describe('the solver', () => {
  it('finds the best plan and what one more of each would be worth', async () => {
    const answer = await solveProgram(smallProgram())
    if (answer.status !== 'optimal') throw new Error(answer.status)
    expect(answer.cost).toBeCloseTo(-36, 9)
    expect([...answer.values]).toEqual([2, 6])
    expect([...answer.rowDuals].map((dual) => Math.round(dual * 100) / 100)).toEqual([-1.5, -1])
  })

  it('keeps to whole numbers where they are asked for', async () => {
    const builder = programBuilder()
    const cups = builder.addColumn({ cost: -1, isWhole: true })
    builder.addRow([[cups, 2]], { upper: 7 })
    expect(await solveProgram(builder.build())).toMatchObject({ status: 'optimal', cost: -3 })
  })

  it('says so when there is no plan, or no end to it', async () => {
    const impossible = programBuilder()
    impossible.addRow([[impossible.addColumn({ upper: 1 }), 1]], { lower: 2 })
    expect(await solveProgram(impossible.build())).toEqual({ status: 'infeasible' })
    const endless = programBuilder()
    endless.addColumn({ cost: -1 })
    endless.addRow([[endless.addColumn({ upper: 1 }), 1]], { lower: 0 })
    expect((await solveProgram(endless.build())).status).not.toBe('optimal')
  })

  it('answers when its time is up, with a plan that keeps the limits if it has one', async () => {
    const program = hardProgram(120)
    const answer = await solveProgram(program, { timeLimitMs: 700 })
    if (answer.status !== 'timed-out') throw new Error(answer.status)
    if (answer.values) {
      expect([...answer.values].every((value) => Math.abs(value - Math.round(value)) < 1e-6)).toBe(true)
      expect(answer.cost).toBeLessThan(0)
    }
  })

  it('leaves the thread of the requests free while it works', async () => {
    let ticks = 0
    const clock = setInterval(() => {
      ticks += 1
    }, 10)
    await solveProgram(hardProgram(120), { timeLimitMs: 600 })
    clearInterval(clock)
    expect(ticks).toBeGreaterThan(5)
  })

  it('answers all when many ask at once, those it could not begin in time as well', async () => {
    const long = [1, 2].map(() => solveProgram(hardProgram(120), { timeLimitMs: 1200 }))
    const waiting = solveProgram(smallProgram(), { timeLimitMs: 100 })
    expect(await waiting).toEqual({ status: 'timed-out', cost: Number.POSITIVE_INFINITY, values: null })
    const many = Array.from({ length: 12 }, () => solveProgram(smallProgram(), { timeLimitMs: 60_000 }))
    expect((await Promise.all(many)).every(({ status }) => status === 'optimal')).toBe(true)
    expect((await Promise.all(long)).every(({ status }) => status === 'timed-out')).toBe(true)
  })

  it('refuses a malformed program and goes on', async () => {
    const broken = { ...smallProgram(), entryColumns: Int32Array.from([7, 8, 9]) }
    await expect(solveProgram(broken)).rejects.toThrow(/the solver refused/)
    expect((await solveProgram(smallProgram())).status).toBe('optimal')
  })
})

describe('long arithmetic of the core', () => {
  /** Some hundred groups, no two alike. */
  const input: DemandInput = {
    lines: ['melanogaster', 'hydei', 'house-fly'].map((id) => findPreyLine(id)!),
    room: {
      today: '2026-11-02',
      days: 70,
      species: [{ id: 'creobroter', profile: profileOf('creobroter-spp') }],
      zones: [{ id: 'rack', history: steady(26) }],
      animals: [],
      groups: Array.from({ length: 150 }, (_, group) => ({
        speciesId: 'creobroter',
        zoneId: 'rack',
        clutchId: `C-${group}`,
        count: 20 + (group % 7),
        ageEffectiveDays: 1 + group / 3,
      })),
      eggCases: [],
      sales: [],
    },
  }

  it('gives on a thread what it gives here, and leaves the thread of the requests free', async () => {
    let ticks = 0
    const clock = setInterval(() => {
      ticks += 1
    }, 10)
    const answer = await workOut(FOOD_DEMAND, input, () => {
      throw new Error('this was to be done on a thread')
    })
    clearInterval(clock)
    expect(answer).toEqual(foodDemand(input))
    expect(ticks).toBeGreaterThan(5)
  })

  it('is done here when both threads are at work on plans', async () => {
    const long = [1, 2].map(() => solveProgram(hardProgram(120), { timeLimitMs: 2500 }))
    const few = { ...input, room: { ...input.room, groups: input.room.groups.slice(0, 4) } }
    const answer = await workOut(FOOD_DEMAND, few, foodDemandSteps)
    const first = await Promise.race([...long, Promise.resolve('plans still at work')])
    expect(first).toBe('plans still at work')
    expect(answer.demand.length).toBeGreaterThan(70)
    await Promise.all(long)
  })
})
