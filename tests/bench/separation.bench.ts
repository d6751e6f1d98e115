import { seededStream } from '@/lib/domain/random/seeded'
import { planQuickly, planSeparation, type SeparationPlan } from '@/lib/domain/separation/plan'
import { totalLoss } from '@/lib/domain/separation/plan-ledger'
import { leastCharges, planProgram } from '@/lib/domain/separation/plan-program'
import { planByIndex, planByWaterFilling } from '@/lib/domain/separation/plan-quick'
import { countRoom } from '@/lib/domain/separation/plan-room'
import { solveProgram, solveSteps } from '@/lib/platform/solver'
import { listOtherSolvers } from '../support/other-solver'
import { type Policy, playRoom, tonightOf } from '../support/separation-play'
import { type SeededRoom, seedRoom } from '../support/separation-rooms'
import { RULES } from '../support/separation-rules'

/**
 * The plan across clutches against how people do it without one. Rooms are drawn from a seed; the three master
 * seeds are not those that anything was chosen on. Losses are expected animals, over 28 days and their tail.
 */
const MASTER_SEEDS = ['november', 'glasshouse', '20260417']
const ROOMS = 40
const DAYS = 28
const LIMIT_MS = 60_000
/** Of the work of parting everyone. */
const CAPACITIES = [
  { name: '60–80 %', from: 0.6, to: 0.8, isAlike: false, asked: 0.75 },
  { name: '35 %', from: 0.35, to: 0.35, isAlike: false, asked: 0.85 },
  { name: '60–80 %, clutches alike', from: 0.6, to: 0.8, isAlike: true, asked: null },
]
const RULE_NAMES = ['oldest first', 'largest first', 'equal shares'] as const

type Capacity = (typeof CAPACITIES)[number]

function seedRooms(master: string, capacity: Capacity): SeededRoom[] {
  return Array.from({ length: ROOMS }, (_, number) => {
    const stream = seededStream(`${master}/${number}`)
    return seedRoom(`${master}/${number}`, {
      clutches: stream.integer(3, 40),
      days: DAYS,
      capacity: capacity.from + (capacity.to - capacity.from) * stream.uniform(),
      isCrowding: number % 2 === 1,
      isAlike: capacity.isAlike,
    })
  })
}

type Losses = Record<string, number>

async function planRoom(seeded: SeededRoom): Promise<Losses> {
  const counted = countRoom(seeded.room)
  const plan = await solveSteps(planSeparation(seeded.room), { timeLimitMs: LIMIT_MS })
  return {
    plan: plan.expectedLosses,
    ...Object.fromEntries(RULE_NAMES.map((name) => [name, totalLoss(RULES[name](seeded))])),
    index: totalLoss(planByIndex(counted)),
    'water-filling': totalLoss(planByWaterFilling(counted)),
    nobody: plan.expectedLossesUntouched,
    'lower bound': plan.atLeast ?? Number.NaN,
  }
}

function sumUp(rooms: Losses[], name: string): number {
  return rooms.reduce((sum, losses) => sum + (losses[name] ?? Number.NaN), 0)
}

function printPooled(title: string, rooms: Losses[], asked: number | null): void {
  const plan = sumUp(rooms, 'plan')
  const names = Object.keys(rooms[0]!).filter((name) => name !== 'plan')
  console.log(`\n${title} · ${rooms.length} rooms · the plan loses ${plan.toFixed(0)} animals`)
  console.table(
    names.map((name) => ({
      'compared with': name,
      'its losses': Math.round(sumUp(rooms, name)),
      'plan ÷ it': ratio(plan, sumUp(rooms, name)),
      asked: RULE_NAMES.some((rule) => rule === name) ? (asked ?? '') : '',
      'rooms where the plan loses more': rooms.filter((losses) => losses.plan! > losses[name]! + 1e-6).length,
    })),
  )
}

/** By capacity: what is asked is asked of all rooms together, a seed alone shows how far they scatter. */
type AllRooms = Map<Capacity, Losses[]>

async function benchRooms(master: string, all: AllRooms): Promise<void> {
  for (const capacity of CAPACITIES) {
    const losses: Losses[] = []
    for (const seeded of seedRooms(master, capacity)) losses.push(await planRoom(seeded))
    printPooled(`${master} · capacity ${capacity.name}`, losses, capacity.asked)
    all.set(capacity, [...(all.get(capacity) ?? []), ...losses])
    for (const [kind, place] of [
      ['fixed hazard', 0],
      ['hazard growing with density', 1],
    ] as const) {
      const part = losses.filter((_, number) => number % 2 === place)
      const ratios = RULE_NAMES.map((rule) => `${rule} ${ratio(sumUp(part, 'plan'), sumUp(part, rule))}`)
      console.log(`  ${kind}: plan ÷ ${ratios.join(', ')}`)
    }
  }
}

/** Everyone plans anew each day from what is really left. */
async function benchPlay(master: string): Promise<void> {
  const policies: Record<string, Policy> = {
    plan: async (seeded) =>
      tonightOfPlan(seeded, await solveSteps(planSeparation(seeded.room, DAILY), LIMIT)),
    ...Object.fromEntries(
      RULE_NAMES.map((name) => [name, async (seeded: SeededRoom) => tonightOf(RULES[name](seeded))]),
    ),
    index: async (seeded) => tonightOf(planByIndex(countRoom(seeded.room))),
    'water-filling': async (seeded) => tonightOf(planByWaterFilling(countRoom(seeded.room))),
  }
  const losses: Losses[] = []
  for (const [number, seeded] of seedRooms(master, CAPACITIES[0]!).entries()) {
    const played: Losses = {}
    for (const [name, policy] of Object.entries(policies))
      played[name] = await playRoom(seeded, `${master}/${number}`, policy)
    losses.push(played)
  }
  printPooled(`${master} · played by chance, planned anew every day`, losses, 0.8)
}

const DAILY = { rounds: 1, helpsTried: 0 }
const LIMIT = { timeLimitMs: LIMIT_MS }

function tonightOfPlan(seeded: SeededRoom, plan: SeparationPlan): number[][] {
  const { clutches, containerKinds } = seeded.room
  return clutches.map(({ id }) =>
    containerKinds.map((kind) => {
      const moves = plan.days[0]?.moves ?? []
      return moves.find((move) => move.clutch === id && move.containerKind === kind.id)?.count ?? 0
    }),
  )
}

async function benchOtherSolvers(master: string): Promise<void> {
  const others = listOtherSolvers()
  if (others.length === 0) console.log('\nNo other solver is installed here (glpsol, cbc): nothing compared.')
  const rooms = seedRooms(master, CAPACITIES[0]!).slice(0, 12)
  for (const other of others) {
    let farthest = 0
    for (const { room } of rooms) {
      const counted = countRoom(room)
      const { program } = planProgram(counted, leastCharges(counted))
      const own = await solveProgram(program, LIMIT)
      if (own.status !== 'optimal') throw new Error(`our own solver: ${own.status}`)
      farthest = Math.max(farthest, Math.abs(other.solve(program) - own.cost) / Math.max(1, own.cost))
    }
    const verdict = farthest < 1e-5 ? 'the same optimum' : 'NOT the same optimum'
    console.log(
      `\n${other.name}: ${verdict} on ${rooms.length} rooms, farthest apart ${farthest.toExponential(1)}`,
    )
  }
}

/** Fifty clutches × 30 days, as a multiple of a sum over a million numbers, so that machines compare. */
async function benchSpeed(): Promise<void> {
  const rows: Record<string, string | number>[] = []
  for (const isCrowding of [false, true]) {
    const { room } = seedRoom('fifty', { clutches: 50, days: 30, capacity: 0.7, isCrowding })
    const quick = await leastMs(async () => planQuickly(room))
    const settled = await leastMs(async () => solveSteps(planSeparation(room), LIMIT))
    const measure = await leastMs(async () => sumOfMillion())
    rows.push({
      hazard: isCrowding ? 'growing with density' : 'fixed',
      'at once, ms': Math.round(quick),
      'settled, ms': Math.round(settled),
      'at once ÷ sum': Math.round(quick / measure),
      'settled ÷ sum': Math.round(settled / measure),
      'settled, ms of processor': Math.round(
        await leastProcessorMs(() => solveSteps(planSeparation(room), LIMIT)),
      ),
      'settled within 500 ms': settled < 500 ? 'yes' : 'no',
    })
  }
  console.log('\nFifty clutches × 30 days, the best of five')
  console.table(rows)
}

function sumOfMillion(): number {
  let sum = 0
  for (let number = 1; number <= 1_000_000; number += 1) sum += Math.sqrt(number)
  return sum
}

async function leastMs(work: () => Promise<unknown>): Promise<number> {
  let least = Number.POSITIVE_INFINITY
  for (let turn = 0; turn < 5; turn += 1) {
    const begun = performance.now()
    await work()
    least = Math.min(least, performance.now() - begun)
  }
  return least
}

/** All threads of this process together: what an idle machine would take at most. */
async function leastProcessorMs(work: () => Promise<unknown>): Promise<number> {
  let least = Number.POSITIVE_INFINITY
  for (let turn = 0; turn < 3; turn += 1) {
    const begun = process.cpuUsage()
    await work()
    const used = process.cpuUsage(begun)
    least = Math.min(least, (used.user + used.system) / 1000)
  }
  return least
}

const ratio = (one: number, other: number) => (one / other).toFixed(3)

export async function run(): Promise<void> {
  await benchSpeed()
  await benchOtherSolvers(MASTER_SEEDS[0]!)
  const all: AllRooms = new Map()
  for (const master of MASTER_SEEDS) {
    await benchRooms(master, all)
    await benchPlay(master)
  }
  for (const [capacity, losses] of all)
    printPooled(`all seeds · capacity ${capacity.name}`, losses, capacity.asked)
}
