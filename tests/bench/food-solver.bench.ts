import { buildFoodProgram } from '@/lib/domain/food-plan/program'
import { layOutRoom } from '@/lib/domain/food-plan/room'
import { solveProgram } from '@/lib/platform/solver'
import { drawFoodCase } from '../support/food-cases'
import { listOtherSolvers } from '../support/other-solver'
import { printTable } from '../support/print-table'

/**
 * The mixed-integer program of a food plan, solved to a hundredth and to a ten-thousandth by our solver and to the end by
 * those of this machine that share no code with it: the last costs have to be the same. The first two weeks are whole
 * numbers.
 */
const SIZES = [
  { weeks: 8, lines: 4, scenarios: 1 },
  { weeks: 8, lines: 4, scenarios: 4 },
  { weeks: 26, lines: 8, scenarios: 1 },
]
const WHOLE_DAYS = 14
const LIMIT_MS = 120_000

export async function run(): Promise<void> {
  const rows: string[][] = []
  for (const { weeks, lines, scenarios } of SIZES) {
    const room = layOutRoom(drawFoodCase('solver', { weeks, lines }), { scenarios, seed: 'bench' })
    const { program } = buildFoodProgram(room, { wholeDays: WHOLE_DAYS })
    const size = `${weeks} × ${lines} × ${scenarios}`
    const columns = String(program.columnCost.length)
    const solve = async (gap: number) => {
      const begun = performance.now()
      const answer = await solveProgram(program, { timeLimitMs: LIMIT_MS, gap })
      return { begun, cost: answer.status === 'optimal' ? answer.cost : null }
    }
    // Threads are started and read their wasm before anything is measured.
    await solve(0.5)
    const near = await solve(0.01)
    const nearRow = told(near.cost, near.begun, null)
    const { cost, begun } = await solve(1e-4)
    rows.push([size, columns, 'ours, to 1 %', ...nearRow.slice(0, 2), offBy(near.cost, cost)])
    rows.push([size, columns, 'ours', ...told(cost, begun, cost)])
    for (const other of listOtherSolvers()) {
      const started = performance.now()
      rows.push([
        size,
        '',
        other.name,
        ...told(
          tryOther(() => other.solve(program)),
          started,
          cost,
        ),
      ])
    }
  }
  printTable(
    'The program of a food plan',
    ['weeks × lines × scenarios', 'columns', 'solver', 'cost', 'seconds', 'off ours'],
    rows,
  )
}

function tryOther(solve: () => number): number | null {
  try {
    return solve()
  } catch {
    return null
  }
}

function told(cost: number | null, begun: number, ours: number | null): string[] {
  const seconds = ((performance.now() - begun) / 1000).toFixed(1)
  if (cost === null) return ['none in time', seconds, '']
  return [cost.toFixed(0), seconds, offBy(cost, ours)]
}

function offBy(cost: number | null, ours: number | null): string {
  return cost === null || ours === null ? '' : Math.abs(cost / ours - 1).toExponential(1)
}
