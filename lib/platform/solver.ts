import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { LinearProgram, ProgramAnswer } from '@/lib/domain/program/linear'
import { AppError } from '@/lib/platform/errors'
import { runInPieces } from '@/lib/platform/in-pieces'

/**
 * Solves linear and mixed-integer programs, and works out whole plans, off the request thread: on a pool of two
 * threads started on first use and kept; they keep no process alive. Every call is answered within its time limit
 * and a little grace, waiting for a free thread included: what has not even begun by then is out of time, and a
 * thread that does not come back is ended and replaced.
 */

const POOL_SIZE = 2
const DEFAULT_LIMIT_MS = 5000
/** How long a thread may overstay a limit that it was given itself. */
const GRACE_MS = 1500
/** A plan may meet a thread that has yet to learn how to read the core. */
const PLAN_GRACE_MS = 6000

type Question = { program: LinearProgram; gap?: number | undefined } | { plan: CorePlan; input: unknown }

/** `answer` is what was asked for: the same thread answers programs and plans. */
type SolverReport = { isReady?: true; answer?: unknown; failure?: string }

type Job = {
  question: Question
  /** On the monotonic clock. */
  endsAt: number
  /** Null when the time is up. */
  resolve: (answer: unknown) => void
  reject: (error: Error) => void
}

type Thread = { worker: Worker; job: Job | null; alarm: NodeJS.Timeout | null }

const OUT_OF_TIME: ProgramAnswer = { status: 'timed-out', cost: Infinity, values: null }

const threads: Thread[] = []
const queue: Job[] = []

/**
 * `gap`: share of the cost by which another answer may be cheaper at most; a ten-thousandth unless said.
 * @throws Error when the program is malformed or its thread dies
 */
export async function solveProgram(
  program: LinearProgram,
  options: { timeLimitMs?: number; gap?: number } = {},
): Promise<ProgramAnswer> {
  const answer = await ask({ program, gap: options.gap }, options.timeLimitMs ?? DEFAULT_LIMIT_MS)
  return (answer as ProgramAnswer | null) ?? OUT_OF_TIME
}

/**
 * A plan of the core as a thread finds it: the file that exports it, from the project's root, and its name. It takes
 * its input and `{ mayGoOn }`, which says no when its time is up, and yields the programs it wants solved, or nothing.
 */
export type CorePlan = { file: `lib/domain/${string}.ts`; name: string }

/**
 * Works out a plan on a thread of its own, its programs included.
 * @throws AppError busy when other plans took all of the time; Error when the plan fails or its thread dies
 */
export async function solvePlan<Input, Result>(
  plan: CorePlan,
  input: Input,
  options: { timeLimitMs?: number } = {},
): Promise<Result> {
  const limitMs = options.timeLimitMs ?? DEFAULT_LIMIT_MS
  const answer = await ask({ plan, input }, limitMs)
  if (answer === null)
    throw new AppError('busy', 'Other plans are being worked out. Try again in a moment.', {
      present: { retryAfterSeconds: Math.ceil(limitMs / 1000) },
    })
  return answer as Result
}

/** Longer than this nobody waits for a page. */
const WORK_LIMIT_MS = 20_000

/**
 * Long arithmetic of the core off the request thread: `core` names `steps` for a thread. Where both threads are at
 * work on plans it is done here after all, in pieces, so that a page never waits for somebody's plan.
 * @throws Error when the arithmetic fails or its thread dies
 */
export async function workOut<Input, Result>(
  core: CorePlan,
  input: Input,
  steps: (input: Input) => Generator<undefined, Result, undefined>,
): Promise<Result> {
  const isOneFree = threads.length < POOL_SIZE || threads.some(({ job }) => job === null)
  const answer = isOneFree ? await ask({ plan: core, input }, WORK_LIMIT_MS) : null
  return answer === null ? runInPieces(steps(input)) : (answer as Result)
}

function ask(question: Question, limitMs: number): Promise<unknown> {
  return new Promise((resolve, reject) => {
    const job: Job = { question, endsAt: performance.now() + limitMs, resolve, reject }
    queue.push(job)
    // The threads at work keep the process alive as long as somebody waits; this alarm must not.
    setTimeout(() => leaveQueue(job), limitMs).unref()
    serveQueue()
  })
}

/**
 * Runs a plan that asks for programs one after another, all of them within one time limit. When it has run out
 * the plan is told so and ends with the best it has.
 */
export async function solveSteps<Result>(
  steps: Generator<LinearProgram, Result, ProgramAnswer>,
  options: { timeLimitMs?: number } = {},
): Promise<Result> {
  const endsAt = performance.now() + (options.timeLimitMs ?? DEFAULT_LIMIT_MS)
  let step = steps.next()
  while (!step.done) {
    const leftMs = endsAt - performance.now()
    const answer = leftMs > 0 ? await solveProgram(step.value, { timeLimitMs: leftMs }) : OUT_OF_TIME
    step = steps.next(answer)
  }
  return step.value
}

function leaveQueue(job: Job): void {
  const place = queue.indexOf(job)
  if (place < 0) return
  queue.splice(place, 1)
  job.resolve(null)
}

function serveQueue(): void {
  while (queue.length > 0) {
    const thread = threads.find(({ job }) => job === null) ?? startThread()
    const job = thread ? queue.shift() : undefined
    if (!thread || !job) return
    begin(thread, job)
  }
}

function begin(thread: Thread, job: Job): void {
  thread.job = job
  const leftMs = Math.max(1, job.endsAt - performance.now())
  thread.alarm = setTimeout(
    () => replace(thread, () => job.resolve(null)),
    leftMs + ('plan' in job.question ? PLAN_GRACE_MS : GRACE_MS),
  )
  thread.worker.ref()
  // On the clock that threads share: a thread that is slow to begin has that much less time.
  const endsAtMs = performance.timeOrigin + job.endsAt
  thread.worker.postMessage({ ...job.question, timeLimitMs: leftMs, endsAtMs })
}

function startThread(): Thread | undefined {
  if (threads.length >= POOL_SIZE) return undefined
  // By path from the working directory: a bundler cannot follow a thread's file, nor the wasm behind it.
  const file = path.join(/* turbopackIgnore: true */ process.cwd(), 'lib/platform/solver-worker.mjs')
  const thread: Thread = { worker: new Worker(file), job: null, alarm: null }
  thread.worker.unref()
  thread.worker.on('message', (report: SolverReport) => settle(thread, report))
  thread.worker.on('error', (error) => replace(thread, (job) => job.reject(error)))
  thread.worker.on('exit', (code) =>
    replace(thread, (job) => job.reject(new Error(`the solver's thread ended with ${code}`))),
  )
  threads.push(thread)
  return thread
}

function settle(thread: Thread, report: SolverReport): void {
  const { job } = thread
  if (report.isReady || !job) return
  release(thread)
  if (report.answer !== undefined) job.resolve(report.answer)
  else job.reject(new Error(`the solver refused: ${report.failure}`))
  serveQueue()
}

/** Ends a thread that has died or overstayed; the next job starts a new one. */
function replace(thread: Thread, tell: (job: Job) => void): void {
  const place = threads.indexOf(thread)
  if (place < 0) return
  threads.splice(place, 1)
  const { job } = thread
  release(thread)
  thread.worker.terminate()
  if (job) tell(job)
  serveQueue()
}

function release(thread: Thread): void {
  if (thread.alarm) clearTimeout(thread.alarm)
  thread.alarm = null
  thread.job = null
  thread.worker.unref()
}
