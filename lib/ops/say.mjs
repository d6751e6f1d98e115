// What the commands print, and how they end. Built-ins only: this runs before anything is installed.

/** Something a person can put right: printed as it stands, without a stack. */
export class Refusal extends Error {}

export function say(line = '') {
  process.stdout.write(`${line}\n`)
}

/** Runs one step, with its name before it and its time after it, and a sign of life while it is long. */
export async function step(name, work) {
  const startedAt = Date.now()
  const seconds = () => `${((Date.now() - startedAt) / 1000).toFixed(1)} s`
  say(`  ${name} …`)
  const stillAtIt = setInterval(() => say(`  … still ${name} (${seconds()})`), 15_000)
  stillAtIt.unref()
  try {
    const value = await work()
    if (Date.now() - startedAt > 1000) say(`  … done in ${seconds()}`)
    return value
  } finally {
    clearInterval(stillAtIt)
  }
}

const isDiskFull = (error) =>
  ['ENOSPC', 'EDQUOT', '53100'].includes(error?.code) ||
  /No space left on device|ENOSPC|Disk quota exceeded/.test(`${error?.message}\n${error?.output ?? ''}`)

const isForbidden = (error) => ['EACCES', 'EPERM', 'EROFS'].includes(error?.code)

/** What parseArgs of Node says about an option that does not exist. */
const isMistyped = (error) => String(error?.code).startsWith('ERR_PARSE_ARGS')

/** One plain sentence for what went wrong, with the original words where they help. */
export function explain(error) {
  if (isDiskFull(error)) {
    return `The disk is full, so this could not be finished. Nothing recorded earlier is lost; free some space and run it again.\n(${telling(error)})`
  }
  if (error instanceof Refusal || isMistyped(error)) return error.message
  if (isForbidden(error) && error.path) {
    return `${error.path} cannot be written by this user (${error.code}). It may belong to the user who ran this earlier: run it as that user, or change the owner.`
  }
  return error?.stack ?? String(error)
}

/** The line of the original words that names the place. */
const telling = (error) => {
  const lines = String(error?.message ?? error).split('\n')
  return (lines.find((line) => /No space|ENOSPC|quota/i.test(line)) ?? lines[0]).trim()
}

export function printError(error) {
  process.stderr.write(`\n${explain(error)}\n`)
}

/** Runs the body of a command; a refusal or a bug ends it with code 1. */
export async function runCommandBody(body) {
  try {
    await body()
  } catch (error) {
    printError(error)
    process.exitCode = 1
  }
}
