// Stops everything once and in order, whatever asked for it: Ctrl-C, SIGTERM, a closed terminal, npm gone, a bug.
import process from 'node:process'
import { stopPrograms } from '../process/command.mjs'
import { printError, say } from '../say.mjs'

/** npm passes a Ctrl-C on that the terminal has sent already; only a later one means "at once". */
const SAME_SIGNAL_MS = 1500
const PARENT_LOOK_MS = 1000

class Stopped extends Error {}

export function makeStopper() {
  const steps = []
  const hurries = []
  let current = Promise.resolve()
  let stopping = null
  let askedAt = 0

  /** What is under way (a database half started) comes to its end first, so that it can be stopped whole. */
  const runSteps = async (code) => {
    stopPrograms()
    await current.catch(() => {})
    const failures = []
    for (const work of steps.reverse()) {
      await (async () => work())().catch((error) => failures.push(error))
    }
    failures.forEach(printError)
    process.exit(failures.length > 0 ? 1 : code)
  }
  const stop = (code) => {
    askedAt ||= Date.now()
    stopping ??= runSteps(code)
    return stopping
  }
  const ask = (reason) => {
    const isAgain = stopping !== null && Date.now() - askedAt > SAME_SIGNAL_MS
    if (isAgain) for (const hurry of hurries) hurry()
    if (!stopping) say(`\nStopping (${reason}) …`)
    stop(0)
  }

  listen(ask, stop)
  return {
    stop,
    /** The last one added is done first. */
    onStop: (work) => steps.push(work),
    /** For who asks a second time. */
    onHurry: (work) => hurries.push(work),
    isStopping: () => stopping !== null,
    /** Nothing new is begun once a stop was asked for. */
    async guard(work) {
      if (stopping) throw new Stopped()
      current = work()
      const value = await current
      if (stopping) throw new Stopped()
      return value
    },
  }
}

function listen(ask, stop) {
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => ask(signal))
  for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {}) // the terminal is gone
  process.on('uncaughtException', (error) => {
    printError(error)
    stop(1)
  })
  watchNpm(ask)
}

/** npm that was killed outright passes nothing on; whoever started it is gone and wants this gone too. */
function watchNpm(ask) {
  if (process.env.npm_lifecycle_event === undefined) return
  const parent = process.ppid
  const look = setInterval(() => {
    if (process.ppid !== parent) ask('npm is gone')
  }, PARENT_LOOK_MS)
  look.unref()
}
