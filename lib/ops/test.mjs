// npm test: does its own set-up, runs everything, and ends with one line of counts.
// `npm test -- tests/domain clutch` runs the files whose names contain one of the words; --long takes its time.
import { randomInt } from 'node:crypto'
import process from 'node:process'
import { stopPrograms } from './process/command.mjs'
import { runCommandBody, say } from './say.mjs'
import { checkNodeVersion } from './settings.mjs'
import { runStyleAndTypes } from './testing/checks.mjs'
import { howToGetChromium } from './testing/chromium.mjs'
import { layGround } from './testing/ground.mjs'
import { chooseSuites } from './testing/suites.mjs'
import { runSuite } from './testing/tally.mjs'

const filters = process.argv.slice(2).filter((word) => !word.startsWith('--'))
const isLong = process.argv.includes('--long')

async function runOne(suite, env, how) {
  say(`\n── ${suite.name} ──`)
  if (!suite.needsBrowser || env.TEST_CHROMIUM) return runSuite(suite, env, how)
  say(howToGetChromium)
  return { passed: 0, failed: 1 }
}

async function runAll(suites, env) {
  const counts = filters.length === 0 ? [await runStyleAndTypes()] : []
  const runLine = async (line, how) => {
    for (const suite of line) if (!isInterrupted) counts.push(await runOne(suite, env, how))
  }
  // A chosen few, and a long run, have the machine to themselves.
  const isBeside = filters.length === 0 && !isLong
  if (!isBeside) await runLine(suites, { isBeside })
  else {
    const ofLine = (number) => suites.filter(({ line = 0 }) => line === number)
    await Promise.all([0, 1].map((number) => runLine(ofLine(number), { isBeside })))
  }
  const sum = (key) => counts.reduce((total, each) => total + each[key], 0)
  return { passed: sum('passed'), failed: sum('failed') + (isInterrupted ? 1 : 0) }
}

let isInterrupted = false
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, () => {
    isInterrupted = true
    stopPrograms()
  })
}

await runCommandBody(async () => {
  checkNodeVersion()
  const seed = process.env.TEST_SEED || String(randomInt(1, 2 ** 31))
  say(`Testing Oothecary. Seed ${seed} (TEST_SEED=${seed} repeats it).`)
  const suites = chooseSuites(filters)
  const has = (need) => suites.some((suite) => suite[need])
  const ground = await layGround({
    needsDatabase: has('needsDatabase'),
    needsBuild: has('needsBuild'),
    needsBrowser: has('needsBrowser'),
  })
  try {
    const env = { ...ground.env, TEST_SEED: seed, TEST_LONG: isLong ? '1' : '' }
    const { passed, failed } = await runAll(suites, env)
    process.exitCode = failed > 0 || passed === 0 ? 1 : 0
    say(`\nseed ${seed}`)
    say(`tests: ${passed} passed, ${failed} failed`)
  } finally {
    await ground.remove()
  }
})
