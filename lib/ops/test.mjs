// npm test: does its own set-up, runs everything, and ends with one line of counts.
// `npm test -- tests/domain clutch` runs the files whose names contain one of the words; --long takes its time.
import { randomInt } from 'node:crypto'
import process from 'node:process'
import { stopPrograms } from './process/command.mjs'
import { runCommandBody, say, step } from './say.mjs'
import { checkNodeVersion } from './settings.mjs'
import { makeReady } from './setup/ready.mjs'
import { runStyleAndTypes } from './testing/checks.mjs'
import { ensureChromium, howToGetChromium } from './testing/chromium.mjs'
import { chooseSuites } from './testing/suites.mjs'
import { runSuite } from './testing/tally.mjs'

const filters = process.argv.slice(2).filter((word) => !word.startsWith('--'))
const isLong = process.argv.includes('--long')

/** A developer's own settings must reach neither their database nor their mail server from here. */
const OWN =
  /^(DATABASE_URL|\w+_DATABASE_URL|DATA_DIR|SMTP_URL|PUBLIC_ADDRESS|NEXTAUTH_URL|HOST|PORT|DEMO|DEMO_ANCHOR|PG\w+)$/

function baseEnvironment(seed) {
  const kept = Object.entries(process.env).filter(([name]) => !OWN.test(name))
  return {
    ...Object.fromEntries(kept),
    SMTP_URL: '',
    DATABASE_URL: '',
    TEST_SEED: seed,
    TEST_LONG: isLong ? '1' : '',
  }
}

/** The build that `up` left is used when it is up to date; a running server's is never replaced. */
async function chooseBuild() {
  const { isBuilt } = await import('./setup/build.mjs')
  const folder = isBuilt('.next') ? '.next' : '.next-test'
  await makeReady({ built: folder })
  return folder
}

async function prepare(suites, env) {
  const cleanups = []
  await makeReady({ generated: true })
  if (suites.some(({ needsBrowser }) => needsBrowser)) env.TEST_CHROMIUM = (await ensureChromium()) ?? ''
  if (suites.some(({ needsBuild }) => needsBuild)) env.DIST_DIR = await chooseBuild()
  if (suites.some(({ needsDatabase }) => needsDatabase)) {
    const { startScratchCluster, makeTemplate } = await import('./testing/scratch.mjs')
    const cluster = await step('starting a throwaway database', startScratchCluster)
    cleanups.push(cluster.remove)
    await makeTemplate(cluster)
    env.TEST_DATABASE_URL = cluster.adminUrl
    env.TEST_PASSWORDS = JSON.stringify(cluster.passwords)
  }
  return cleanups
}

async function runAll(suites, env) {
  const counts = filters.length === 0 ? [await runStyleAndTypes()] : []
  for (const suite of suites) {
    if (isInterrupted) break
    say(`\n── ${suite.name} ──`)
    const lacksBrowser = suite.needsBrowser && !env.TEST_CHROMIUM
    counts.push(lacksBrowser ? { passed: 0, failed: 1 } : await runSuite(suite, env))
    if (lacksBrowser) say(howToGetChromium)
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
  const seed = process.env.TEST_SEED ?? String(randomInt(1, 2 ** 31))
  say(`Testing Oothecary. Seed ${seed} (TEST_SEED=${seed} repeats it).`)
  const suites = chooseSuites(filters)
  const env = baseEnvironment(seed)
  const cleanups = await prepare(suites, env)
  try {
    const { passed, failed } = await runAll(suites, env)
    process.exitCode = failed > 0 || passed === 0 ? 1 : 0
    say(`\nseed ${seed}`)
    say(`tests: ${passed} passed, ${failed} failed`)
  } finally {
    for (const clean of cleanups) await clean()
  }
})
