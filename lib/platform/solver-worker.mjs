// One thread of the solver: takes a program by message, answers by message. Plain JavaScript, because a bundler cannot
// follow it; loaded by path. The wasm comes from the installed package beside its own loader.
import path from 'node:path'
import process from 'node:process'
import { pathToFileURL } from 'node:url'
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

/** From so many columns on a program without whole ones is faster through its middle than along its corners. */
const MANY_COLUMNS = 12_000
const THROUGH_THE_MIDDLE = { solver: 'ipm', run_crossover: 'off' }

function solve(program, timeLimitMs, gap = 1e-4) {
  const endsAt = performance.now() + timeLimitMs
  let failure = null
  const isLarge = !program.columnIsWhole && program.columnCost.length > MANY_COLUMNS
  for (const way of isLarge ? [THROUGH_THE_MIDDLE, ...WAYS] : WAYS) {
    const leftMs = Math.max(1, endsAt - performance.now())
    try {
      return highs.withModel(createModel(program), (model) =>
        run(model, { ...way, mip_rel_gap: gap, time_limit: leftMs / 1000 }),
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

/** The core is TypeScript, which a thread has to be taught to read; once, and only where a plan is asked for. */
let isTaught = false
async function findPlan({ file, name }) {
  if (!isTaught) {
    const { register } = await import('tsx/esm/api')
    register()
    isTaught = true
  }
  const found = (await import(pathToFileURL(path.join(process.cwd(), file)).href))[name]
  if (typeof found !== 'function') throw new Error(`${file} has no ${name}`)
  return found
}

/** Share of the time left for what a plan does after it was told to end. */
const LAST_SHARE = 0.1

async function work({ plan, input, timeLimitMs, endsAtMs }) {
  const endsAt = endsAtMs - performance.timeOrigin - LAST_SHARE * timeLimitMs
  const make = await findPlan(plan)
  const steps = make(input, { mayGoOn: () => performance.now() < endsAt })
  let step = steps.next()
  while (!step.done) {
    if (step.value === undefined) {
      step = steps.next()
      continue
    }
    const leftMs = endsAt - performance.now()
    step = steps.next(
      leftMs > 0 ? solve(step.value, leftMs) : { status: 'timed-out', cost: Infinity, values: null },
    )
  }
  return step.value
}

parentPort?.on('message', async (question) => {
  try {
    const answer = question.plan
      ? await work(question)
      : solve(question.program, question.timeLimitMs, question.gap)
    parentPort?.postMessage({ answer })
  } catch (error) {
    parentPort?.postMessage({ failure: error instanceof Error ? error.message : String(error) })
  }
})
parentPort?.postMessage({ isReady: true })
