import { buildFoodProgram } from '@/lib/domain/food-plan/program'
import { layOutRoom } from '@/lib/domain/food-plan/room'
import { solveProgram } from '@/lib/platform/solver'
import { drawFoodCase } from '../support/food-cases'
import { listOtherSolvers } from '../support/other-solver'
import { printTable } from '../support/print-table'

/**
 * The mixed-integer program of a food plan, solved to a ten-thousandth by our solver and by those of this machine
 * that share no code with it: the cost has to be the same. The first two weeks are whole numbers.
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
    const begun = performance.now()
    const ours = await solveProgram(program, { timeLimitMs: LIMIT_MS })
    const cost = ours.status === 'optimal' ? ours.cost : null
    rows.push([size, String(program.columnCost.length), 'ours', ...told(cost, begun, cost)])
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
    'The program of a food plan, to a ten-thousandth',
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
  const off = ours === null ? '' : Math.abs(cost / ours - 1).toExponential(1)
  return [cost.toFixed(0), seconds, off]
}
