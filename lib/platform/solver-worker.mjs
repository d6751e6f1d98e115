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

function solve(program, timeLimitMs) {
  return highs.withModel(createModel(program), (model) => {
    model.options.set({ output_flag: false, time_limit: timeLimitMs / 1000, random_seed: 1 })
    model.run()
    const status = STATUS.get(model.getModelStatus())
    if (!status) throw new Error(`the solver ended with status ${model.getModelStatus()}`)
    if (status === 'infeasible' || status === 'unbounded') return { status }
    const isFeasible = model.info.get('primal_solution_status') === FEASIBLE
    const solution = model.getSolution()
    const cost = model.getObjectiveValue()
    if (status === 'timed-out') return { status, cost, values: isFeasible ? solution.colValue : null }
    return {
      status,
      cost,
      values: solution.colValue,
      rowDuals: solution.rowDual,
      columnDuals: solution.colDual,
    }
  })
}

parentPort?.on('message', ({ program, timeLimitMs }) => {
  try {
    parentPort?.postMessage({ answer: solve(program, timeLimitMs) })
  } catch (error) {
    parentPort?.postMessage({ failure: error instanceof Error ? error.message : String(error) })
  }
})
parentPort?.postMessage({ isReady: true })
