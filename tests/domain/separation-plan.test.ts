import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { seededStream } from '@/lib/domain/random/seeded'
import {
  feedingMinutesOf,
  PLAN_OPTIONS,
  planQuickly,
  planSeparation,
  type SeparationPlan,
} from '@/lib/domain/separation/plan'
import { checkPlan } from '@/lib/domain/separation/plan-check'
import { totalLoss } from '@/lib/domain/separation/plan-ledger'
import { planByIndex, planByWaterFilling } from '@/lib/domain/separation/plan-quick'
import {
  countRoom,
  feedingMinutesByDay,
  SEPARATION_LABOUR,
  type SeparationRoom,
} from '@/lib/domain/separation/plan-room'
import { solveSteps } from '@/lib/platform/solver'
import { planClutch, planRoom, TODAY } from '../cases/separation-room'
import { playRoom } from '../support/separation-play'
import { seedRoom } from '../support/separation-rooms'
import { bestByTrying, tinyRoom } from '../support/separation-trying'

const solve = (room: SeparationRoom, options = PLAN_OPTIONS): Promise<SeparationPlan> =>
  solveSteps(planSeparation(room, options), { timeLimitMs: 60_000 })

const movesOf = (plan: SeparationPlan) =>
  plan.days.flatMap(({ on, moves }) => moves.map((move) => ({ on, ...move })))
const partedOf = (plan: SeparationPlan) => movesOf(plan).reduce((sum, { count }) => sum + count, 0)

describe('the plan across clutches', () => {
  it('asks for nothing where nothing is due', async () => {
    const plan = await solve(planRoom({ clutches: [planClutch({ hazard: { baseRisk: [0] } })] }))
    expect(movesOf(plan)).toEqual([])
    expect(plan.expectedLosses).toBe(0)
    expect(plan.missed).toEqual([])
  })

  it('has nothing to say about an empty room, a single animal, or no days at all', async () => {
    expect(movesOf(await solve(planRoom({ clutches: [] })))).toEqual([])
    const alone = await solve(planRoom({ clutches: [planClutch({ together: 1 })] }))
    expect([movesOf(alone), alone.expectedLosses]).toEqual([[], 0])
    expect((await solve(planRoom({ days: [] }))).days).toEqual([])
  })

  it.each([
    ['there are no hours', { days: planRoom().days.map((day) => ({ ...day, minutes: 0 })) }],
    ['there are no cups', { containerKinds: [{ ...planRoom().containerKinds[0]!, free: 0 }] }],
    [
      'all of them hang',
      { clutches: [planClutch({ blocked: planRoom().days.map(({ on }) => on), apartBy: TODAY })] },
    ],
    ['they are too young', { clutches: [planClutch({ safeFrom: '2026-12-24', apartBy: TODAY })] }],
    ['no container fits them', { clutches: [planClutch({ containerKinds: [], apartBy: TODAY })] }],
  ])('names what cannot be met and its cost where %s', async (_, changes) => {
    const room = planRoom({ clutches: [planClutch({ apartBy: TODAY })], ...changes })
    const plan = await solve(room)
    expect(movesOf(plan)).toEqual([])
    expect(plan.expectedLosses).toBeCloseTo(plan.expectedLossesUntouched, 9)
    expect(plan.missed).toMatchObject([{ clutch: 'first', label: 'First', apartBy: TODAY, count: 40 }])
    expect(plan.missed[0]!.cost).toBeCloseTo(40 * (1 - 0.98 ** 11), 6)
  })

  it('parts a clutch at once where one evening is enough, and keeps its time', async () => {
    const plan = await solve(planRoom())
    expect(movesOf(plan)).toEqual([{ on: TODAY, clutch: 'first', count: 40, containerKind: 'cup' }])
    expect(plan.days[0]!.minutes).toBeCloseTo(10 + 40 * 0.75, 9)
    expect(plan.expectedLosses).toBeCloseTo(0, 9)
  })

  it('takes the fiercer clutch first, and waits for cups that are on their way', async () => {
    const room = planRoom({
      clutches: [planClutch(), planClutch({ id: 'fierce', hazard: { baseRisk: [0.06] } })],
      containerKinds: [
        {
          id: 'cup',
          label: 'cup',
          free: 40,
          ordered: [{ on: addDays(TODAY, 3), count: 40 }],
          neededByGrowing: [{ on: addDays(TODAY, 2), count: 5 }],
        },
      ],
    })
    const plan = await solve(room)
    const early = movesOf(plan).filter(({ on }) => on < addDays(TODAY, 3))
    expect(early.every(({ clutch: id }) => id === 'fierce')).toBe(true)
    expect(early.reduce((sum, { count }) => sum + count, 0)).toBe(35)
    expect(partedOf(plan)).toBe(75)
  })

  it('does not make more cups than there are hours to feed', async () => {
    const labour = { ...SEPARATION_LABOUR, secondsPerCupFeeding: 120, daysBetweenFeedings: 1 }
    const plan = await solve(planRoom({ labour }))
    const fedOnLastDay = movesOf(plan).filter(({ on }) => on < addDays(TODAY, 3))
    const cups = fedOnLastDay.reduce((sum, { count }) => sum + count, 0)
    expect(cups).toBeGreaterThan(0)
    expect(cups).toBeLessThan(40)
    expect(cups * feedingMinutesByDay([60, 0, 45, 60], labour)[3]!).toBeLessThanOrEqual(60 + 1e-6)
    // What an evening says of feeding is what the cups filled before it ask for, and nothing on the first one.
    let filled = 0
    for (const [index, day] of plan.days.entries()) {
      expect(feedingMinutesOf(day, labour)).toBeCloseTo(
        filled * feedingMinutesByDay([60, 0, 45, 60], labour)[index]!,
      )
      filled += day.moves.reduce((sum, { count }) => sum + count, 0)
    }
  })

  it('loses no more than the best of all plans allows, and its bound holds, in rooms small enough to try all', async () => {
    let farthest = 0
    let notBest = 0
    for (let number = 0; number < 25; number += 1) {
      const room = tinyRoom(number)
      const plan = await solve(room, { rounds: 4, helpsTried: 0 })
      const best = bestByTrying(room)
      expect(plan.atLeast!).toBeLessThanOrEqual(best + 1e-6)
      expect(plan.expectedLosses).toBeGreaterThanOrEqual(best - 1e-6)
      if (plan.expectedLosses > best + 1e-3) notBest += 1
      farthest = Math.max(farthest, (plan.expectedLosses - best) / Math.max(0.5, best))
    }
    expect(notBest).toBeLessThanOrEqual(2)
    expect(farthest).toBeLessThan(0.05)
  })

  it('can be done and loses no more than either quick rule, whatever the room', async () => {
    const shape = fc.record({
      clutches: fc.integer({ min: 1, max: 14 }),
      days: fc.integer({ min: 1, max: 16 }),
      capacity: fc.double({ min: 0.05, max: 1.2, noNaN: true }),
      isCrowding: fc.boolean(),
    })
    await fc.assert(
      fc.asyncProperty(fc.integer(), shape, async (seed, wanted) => {
        const { room } = seedRoom(`any ${seed}`, wanted)
        const plan = await solve(room, { rounds: 1, helpsTried: 0 })
        const counted = countRoom(room)
        expect(checkPlan(room, plan)).toEqual([])
        expect(plan.expectedLosses).toBeLessThanOrEqual(totalLoss(planByIndex(counted)) + 1e-6)
        expect(plan.expectedLosses).toBeLessThanOrEqual(totalLoss(planByWaterFilling(counted)) + 1e-6)
        expect(plan.atLeast!).toBeLessThanOrEqual(plan.expectedLosses + 1e-5)
        expect(plan.expectedLosses).toBeLessThanOrEqual(plan.expectedLossesUntouched + 1e-6)
      }),
      { numRuns: 15, seed: 20261125 },
    )
  })

  it('answers fifty clutches at once', async () => {
    const { room } = seedRoom('fifty', { clutches: 50, days: 30, capacity: 0.5, isCrowding: true })
    const quick = planQuickly(room)
    const plan = await solve(room)
    expect(plan.status).toBe('optimal')
    expect(plan.expectedLosses).toBeLessThanOrEqual(quick.expectedLosses + 1e-6)
    expect(plan.expectedLosses).toBeLessThan(0.8 * plan.expectedLossesUntouched)
    expect(checkPlan(room, quick)).toEqual([])
  })

  it('is made where the solver fails at its first way', async () => {
    const clutches = seededStream('20260417/31').integer(3, 40)
    const { room } = seedRoom('20260417/31', { clutches, days: 28, capacity: 0.35, isCrowding: true })
    expect((await solve(room)).status).toBe('optimal')
  })

  it('shows the best it has when time runs out', async () => {
    const { room } = seedRoom('hurry', { clutches: 12, days: 20, capacity: 0.6, isCrowding: true })
    const plan = await solveSteps(planSeparation(room), { timeLimitMs: 0 })
    expect(plan.status).toBe('timed-out')
    expect(plan.expectedLosses).toBeCloseTo(planQuickly(room).expectedLosses, 9)
    expect(plan.atLeast).toBeNull()
  })

  it('never bounds the losses higher for more cups or more hours', async () => {
    const { room } = seedRoom('more', { clutches: 8, days: 14, capacity: 0.5, isCrowding: true })
    const bound = (await solve(room)).atLeast!
    const cups = room.containerKinds.map((kind) => ({ ...kind, free: kind.free + 30 }))
    const days = room.days.map((day) => ({ ...day, minutes: day.minutes * 1.3 }))
    expect((await solve({ ...room, containerKinds: cups })).atLeast!).toBeLessThanOrEqual(bound + 1e-6)
    expect((await solve({ ...room, days })).atLeast!).toBeLessThan(bound)
  })

  it('expects what is lost on average when the plan is carried out', async () => {
    const { room } = seedRoom('average', { clutches: 5, days: 10, capacity: 0.5, isCrowding: false })
    const plan = planQuickly(room)
    const tonight = (on: string) =>
      room.clutches.map(({ id, together }) =>
        room.containerKinds.map((kind) => {
          const planned = plan.days.find((day) => day.on === on)?.moves ?? []
          const count =
            planned.find((move) => move.clutch === id && move.containerKind === kind.id)?.count ?? 0
          return Math.min(count, together)
        }),
      )
    let sum = 0
    for (let turn = 0; turn < 120; turn += 1)
      sum += await playRoom({ room, hatchedOn: [] }, `turn ${turn}`, async (now) =>
        tonight(now.room.days[0]!.on).map((kinds, number) =>
          within(kinds, now.room.clutches[number]!.together),
        ),
      )
    expect(sum / 120 / plan.expectedLosses).toBeGreaterThan(0.95)
    expect(sum / 120 / plan.expectedLosses).toBeLessThan(1.05)
  })
})

describe('what would help', () => {
  it('is told in the animals that a new plan with it saves, most helpful first', async () => {
    const { room } = seedRoom('help', { clutches: 8, days: 14, capacity: 0.4, isCrowding: false })
    const options = { rounds: 2, helpsTried: 3 }
    const plan = await solve(room, options)
    expect(plan.helps.length).toBeGreaterThan(0)
    expect(plan.helps.map(({ saves }) => saves)).toEqual(
      plan.helps.map(({ saves }) => saves).sort((a, b) => b - a),
    )
    const hour = plan.helps.find((help) => help.kind === 'hour')!
    const days = room.days.map((day) =>
      day.on === hour.on ? { ...day, minutes: day.minutes + hour.minutes } : day,
    )
    const again = await solve({ ...room, days }, { ...options, helpsTried: 0 })
    expect(hour.saves).toBeGreaterThan(0)
    expect(plan.expectedLosses - again.expectedLosses).toBeLessThanOrEqual(hour.saves + 1e-6)
  })

  it('is cups where cups are short, by the day they are needed', async () => {
    const plan = await solve(
      planRoom({ containerKinds: [{ id: 'cup', label: 'cup', free: 10, ordered: [], neededByGrowing: [] }] }),
      { rounds: 2, helpsTried: 3 },
    )
    expect(plan.helps[0]).toMatchObject({ kind: 'containers', containerKind: 'cup', count: 20 })
    expect(plan.helps[0]!.saves).toBeGreaterThan(1)
  })

  it('is nothing where everyone is apart anyway', async () => {
    expect((await solve(planRoom(), { rounds: 2, helpsTried: 3 })).helps).toEqual([])
  })
})

function within(kinds: number[], together: number): number[] {
  let open = together
  return kinds.map((count) => {
    const taken = Math.min(open, count)
    open -= taken
    return taken
  })
}
