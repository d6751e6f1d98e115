// One thread of the solver: takes a program by message, answers by message. Plain JavaScript, because a bundler cannot
// follow it; loaded by path. The wasm comes from the installed package beside its own loader.
import { parentPort } from 'node:worker_threads'
import loadHighs from 'highs'

const highs = await loadHighs()
const { modelStatus, variableType } = highs.constants

const STATUS = new Map([
  [modelStatus.optimal, 'optimal'],
  [modelStatus.infeasible, 'infeasible'],
  [modelStatus.unbounded, 'unbounded'],
  [modelStatus.unboundedOrInfeasible, 'infeasible'],
  [modelStatus.timeLimit, 'timed-out'],
  [modelStatus.iterationLimit, 'timed-out'],
  [modelStatus.interrupted, 'timed-out'],
])

/** HiGHS's own number for "a solution that satisfies the constraints". */
const FEASIBLE = 2

function createModel(program) {
  const { columnIsWhole } = program
  return {
    numCols: program.columnCost.length,
    numRows: program.rowLower.length,
    colCost: program.columnCost,
    colLower: program.columnLower,
    colUpper: program.columnUpper,
    rowLower: program.rowLower,
    rowUpper: program.rowUpper,
    matrix: {
      format: 'csr',
      numRows: program.rowLower.length,
      numCols: program.columnCost.length,
      starts: program.rowStarts,
      indices: program.entryColumns,
      values: program.entryValues,
    },
    ...(columnIsWhole
      ? {
          integrality: Int32Array.from(columnIsWhole, (isWhole) =>
            isWhole ? variableType.integer : variableType.continuous,
          ),
        }
      : {}),
  }
}

/** The presolver fails on one program in some thousands that the simplex solves as it stands; then by another way. */
const WAYS = [{}, { presolve: 'off' }, { presolve: 'off', solver: 'ipm' }]

function solve(program, timeLimitMs) {
  const endsAt = performance.now() + timeLimitMs
  let failure = null
  for (const way of WAYS) {
    const leftMs = Math.max(1, endsAt - performance.now())
    try {
      return highs.withModel(createModel(program), (model) =>
        run(model, { ...way, time_limit: leftMs / 1000 }),
      )
    } catch (error) {
      failure = error
    }
  }
  throw failure
}

function run(model, options) {
  model.options.set({ output_flag: false, random_seed: 1, ...options })
  model.run()
  const status = STATUS.get(model.getModelStatus())
  if (!status) throw new Error(`the solver ended with status ${model.getModelStatus()}`)
  if (status === 'infeasible' || status === 'unbounded') return { status }
  const isFeasible = model.info.get('primal_solution_status') === FEASIBLE
  const { colValue, rowDual, colDual } = model.getSolution()
  const cost = model.getObjectiveValue()
  if (status === 'timed-out') return { status, cost, values: isFeasible ? colValue : null }
  return { status, cost, values: colValue, rowDuals: rowDual, columnDuals: colDual }
}

parentPort?.on('message', ({ program, timeLimitMs }) => {
  try {
    parentPort?.postMessage({ answer: solve(program, timeLimitMs) })
  } catch (error) {
    parentPort?.postMessage({ failure: error instanceof Error ? error.message : String(error) })
  }
})
parentPort?.postMessage({ isReady: true })
