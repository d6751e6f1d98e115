// Runs another program to its end, keeps what it said, and can be told to stop it.
import { spawn } from 'node:child_process'
import process from 'node:process'
import { createInterface } from 'node:readline'
import { inProject, projectFolder } from '../place.mjs'
import { Refusal } from '../say.mjs'

const running = new Set()

/** The program's own last words say more than a stack of ours. */
export class CommandFailed extends Refusal {
  constructor(name, code, output) {
    super(`${name} ended with ${code}:\n${output.split('\n').slice(-40).join('\n').trim()}`)
    this.output = output
  }
}

/**
 * One of our own scripts that must not outlive who started it, not even after a kill -9.
 * @param {string[]} args what node is started with
 * @param {Parameters<typeof runProgram>[2]} [options]
 */
export function runDependent(args, options = {}) {
  const guard = inProject('lib/ops/process/end-with-parent.mjs')
  return runProgram(process.execPath, ['--import', guard, ...args], { ...options, hasChannel: true })
}

/**
 * @param {string} file
 * @param {string[]} args
 * @param {{name?: string, shown?: boolean, env?: object, cwd?: string, uid?: number, gid?: number,
 *   isKept?: boolean, hasChannel?: boolean, onLine?: (line: string) => void}} [options] `isKept`: left to finish when
 *   everything else is stopped; `onLine`: told each line as it comes
 * @returns {Promise<string>} everything it printed
 */
export function runProgram(file, args, options = {}) {
  const { name = file, shown = false, isKept = false, hasChannel = false, onLine, ...rest } = options
  const voice = shown ? 'inherit' : 'pipe'
  const stdio = ['ignore', voice, voice, ...(hasChannel ? ['ipc'] : [])]
  const child = spawn(file, args, { cwd: projectFolder, stdio, ...rest })
  if (!isKept) running.add(child)
  let output = ''
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (chunk) => (output += chunk))
    if (stream && onLine) createInterface({ input: stream }).on('line', onLine)
  }
  return new Promise((resolve, reject) => {
    child.once('error', reject)
    child.once('close', (code, signal) => {
      if (code === 0) resolve(output)
      else reject(new CommandFailed(name, signal ?? `code ${code}`, output))
    })
  }).finally(() => running.delete(child))
}

/** A Ctrl-C while something is installed or built must not leave that behind. */
export function stopPrograms() {
  for (const child of running) child.kill('SIGTERM')
}
