import { type ChildProcess, fork } from 'node:child_process'
import path from 'node:path'
import type { TypesetRequest } from './typeset.mjs'

type Answer = { number: number; bytes?: Uint8Array; failure?: string }
type Waiting = { resolve: (bytes: Uint8Array) => void; reject: (error: Error) => void }

let typesetter: ChildProcess | null = null
let lastNumber = 0
const waiting = new Map<number, Waiting>()

/**
 * Sets type in a process of its own, so that a batch of fifty sheets holds nobody up: in a thread it would hold the
 * memory that it shares with the one that answers whenever it is made to wait itself. One for each process, started on
 * first use and kept; it keeps no process alive. One that dies fails what it was setting and the next request starts a
 * new one.
 */
export function typesetOffThread(request: TypesetRequest): Promise<Uint8Array> {
  const child = getTypesetter()
  lastNumber += 1
  const number = lastNumber
  return new Promise((resolve, reject) => {
    waiting.set(number, { resolve, reject })
    child.ref()
    child.channel?.ref()
    child.send({ number, request })
  })
}

function getTypesetter(): ChildProcess {
  if (typesetter) return typesetter
  // By path from the working directory, as the fonts and templates are: a bundler cannot follow this file.
  const inProject = (file: string) => path.join(/* turbopackIgnore: true */ process.cwd(), file)
  const started = fork(inProject('lib/documents/typeset-worker.mjs'), {
    execArgv: ['--import', inProject('lib/platform/give-way.mjs')],
    serialization: 'advanced',
  })
  started.on('message', (answer) => settle(answer as Answer, started))
  started.on('error', (error) => failAll(error, started))
  started.on('exit', (code) => failAll(new Error(`typesetting ended with ${code}`), started))
  typesetter = started
  return started
}

function settle(answer: Answer, child: ChildProcess): void {
  const waiter = waiting.get(answer.number)
  waiting.delete(answer.number)
  if (waiting.size === 0) {
    child.unref()
    child.channel?.unref()
  }
  if (answer.bytes) waiter?.resolve(answer.bytes)
  else waiter?.reject(new Error(answer.failure ?? 'typesetting gave no answer'))
}

function failAll(error: Error, child: ChildProcess): void {
  if (typesetter !== child) return
  typesetter = null
  for (const waiter of waiting.values()) waiter.reject(error)
  waiting.clear()
}
