import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { TypesetRequest } from './typeset.mjs'

type Answer = { number: number; bytes?: Uint8Array; failure?: string }
type Waiting = { resolve: (bytes: Uint8Array) => void; reject: (error: Error) => void }

let thread: Worker | null = null
let lastNumber = 0
const waiting = new Map<number, Waiting>()

/**
 * Sets type off the request thread, so that a batch of fifty sheets holds nobody up. One thread per process,
 * started on first use and kept; it keeps no process alive. A thread that dies fails what it was setting and
 * the next request starts a new one.
 */
export function typesetOffThread(request: TypesetRequest): Promise<Uint8Array> {
  const worker = getThread()
  lastNumber += 1
  const number = lastNumber
  return new Promise((resolve, reject) => {
    waiting.set(number, { resolve, reject })
    worker.ref()
    worker.postMessage({ number, request })
  })
}

function getThread(): Worker {
  if (thread) return thread
  // By path from the working directory, as the fonts and templates are: a bundler cannot follow this file.
  const inProject = (file: string) => path.join(/* turbopackIgnore: true */ process.cwd(), file)
  // The threads it starts itself get the priority it has by then.
  const started = new Worker(inProject('lib/documents/typeset-worker.mjs'), {
    execArgv: ['--import', inProject('lib/platform/give-way.mjs')],
  })
  started.on('message', (answer: Answer) => settle(answer, started))
  started.on('error', (error) => failAll(error, started))
  started.on('exit', (code) => failAll(new Error(`the typesetting thread ended with ${code}`), started))
  thread = started
  return started
}

function settle(answer: Answer, worker: Worker): void {
  const waiter = waiting.get(answer.number)
  waiting.delete(answer.number)
  if (waiting.size === 0) worker.unref()
  if (answer.bytes) waiter?.resolve(answer.bytes)
  else waiter?.reject(new Error(answer.failure ?? 'the typesetting thread gave no answer'))
}

function failAll(error: Error, worker: Worker): void {
  if (thread !== worker) return
  thread = null
  for (const waiter of waiting.values()) waiter.reject(error)
  waiting.clear()
}
