import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { LinearProgram, ProgramAnswer } from '@/lib/domain/program/linear'

/**
 * Solves linear and mixed-integer programs off the request thread, on a pool of two threads started on first
 * use and kept; they keep no process alive. Every call is answered within its time limit and a little grace,
 * waiting for a free thread included: a program that has not even begun by then is 'timed-out' without values,
 * and a thread that does not come back is ended and replaced.
 */

const POOL_SIZE = 2
const DEFAULT_LIMIT_MS = 5000
/** How long a thread may overstay a limit that it was given itself. */
const GRACE_MS = 1500

type SolverReport = { isReady?: true; answer?: ProgramAnswer; failure?: string }

type Job = {
  program: LinearProgram
  /** On the monotonic clock. */
  endsAt: number
  resolve: (answer: ProgramAnswer) => void
  reject: (error: Error) => void
}

type Thread = { worker: Worker; job: Job | null; alarm: NodeJS.Timeout | null }

const OUT_OF_TIME: ProgramAnswer = { status: 'timed-out', cost: Infinity, values: null }

const threads: Thread[] = []
const queue: Job[] = []

/** @throws Error when the program is malformed or its thread dies */
export function solveProgram(
  program: LinearProgram,
  options: { timeLimitMs?: number } = {},
): Promise<ProgramAnswer> {
  const limitMs = options.timeLimitMs ?? DEFAULT_LIMIT_MS
  return new Promise((resolve, reject) => {
    const job: Job = { program, endsAt: performance.now() + limitMs, resolve, reject }
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
  job.resolve(OUT_OF_TIME)
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
  thread.alarm = setTimeout(() => replace(thread, () => job.resolve(OUT_OF_TIME)), leftMs + GRACE_MS)
  thread.worker.ref()
  thread.worker.postMessage({ program: job.program, timeLimitMs: leftMs })
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
  if (report.answer) job.resolve(report.answer)
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
