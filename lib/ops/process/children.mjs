// Keeps one child process alive until it is told to stop.
import { spawn } from 'node:child_process'
import process from 'node:process'
import { inProject, projectFolder } from '../place.mjs'
import { Refusal, say } from '../say.mjs'

const FIRST_DELAY_MS = 500
// Somebody waits at the counter: even a child that dies over and over is tried again every few seconds.
const LONGEST_DELAY_MS = 8000
const STEADY_MS = 10_000

function spawnChild({ args, env }) {
  const guard = ['--import', inProject('lib/ops/process/end-with-parent.mjs')]
  return spawn(process.execPath, [...guard, ...args], {
    cwd: projectFolder,
    env,
    detached: true, // a Ctrl-C in the terminal reaches `up` alone, which stops its children in order
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  })
}

/** Starts it and tells when it said `ready` and when, and how, it ended. */
function startChild(description, { onReady, onExit }) {
  const child = spawnChild(description)
  const life = { child, startedAt: Date.now(), isReady: false }
  child.on('message', (message) => {
    if (message?.state !== 'ready') return
    life.isReady = true
    onReady()
  })
  child.once('error', (error) => onExit(life, error.message))
  child.once('exit', (code, signal) => onExit(life, signal ?? `code ${code}`))
  return life
}

/**
 * A child that says `ready` once it can work. Dead before that, it is a failed start; dead later, it is
 * started again, after a delay that doubles until it has held out for a while.
 */
export function keepChild({ name, args, env }) {
  let life = null
  let isStopping = false
  let delayMs = FIRST_DELAY_MS
  let timer = null
  let settle = null
  const ready = new Promise((resolve, reject) => (settle = { resolve, reject }))
  let wasReady = false

  const onReady = () => {
    wasReady = true
    settle.resolve()
  }
  const onExit = (ended, reason) => {
    life = null
    if (isStopping) return
    if (!wasReady) return settle.reject(new Refusal(`The ${name} did not start (${reason}).`))
    if (Date.now() - ended.startedAt > STEADY_MS) delayMs = FIRST_DELAY_MS
    say(`The ${name} died (${reason}); starting it again in ${delayMs / 1000} s.`)
    timer = setTimeout(start, delayMs)
    delayMs = Math.min(delayMs * 2, LONGEST_DELAY_MS)
  }
  const start = () => {
    life = startChild({ args, env }, { onReady, onExit })
  }

  start()
  return {
    ready,
    stop(graceMs) {
      isStopping = true
      clearTimeout(timer)
      return life ? stopChild(life, graceMs) : Promise.resolve()
    },
  }
}

/** Asks it to finish what is in flight; who has not even started, or takes too long, is killed. */
function stopChild({ child, isReady }, graceMs) {
  return new Promise((resolve) => {
    const kill = setTimeout(() => killGroup(child.pid), isReady && child.connected ? graceMs : 0)
    child.once('exit', () => {
      clearTimeout(kill)
      resolve()
    })
    if (child.connected) child.send({ state: 'stop' }, () => {})
  })
}

function killGroup(pid) {
  try {
    process.kill(-pid, 'SIGKILL')
  } catch (error) {
    if (error.code !== 'ESRCH') throw error
  }
}
