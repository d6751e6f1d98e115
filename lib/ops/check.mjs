// npm run check: what is quick to know. Format, lint, types, architecture, domain.
import { randomInt } from 'node:crypto'
import process from 'node:process'
import { runCommandBody, say } from './say.mjs'
import { makeReady } from './setup/ready.mjs'
import { runStyleAndTypes } from './testing/checks.mjs'
import { chooseSuites } from './testing/suites.mjs'
import { runSuite } from './testing/tally.mjs'

await runCommandBody(async () => {
  await makeReady({ generated: true })
  const still = await runStyleAndTypes()
  const [core] = chooseSuites([])
  const seed = process.env.TEST_SEED || String(randomInt(1, 2 ** 31))
  const tests = await runSuite(core, { ...process.env, TEST_SEED: seed })
  const failed = still.failed + tests.failed
  say(`seed ${seed}`)
  say(`check: ${still.passed + tests.passed} passed, ${failed} failed`)
  if (failed > 0) process.exitCode = 1
})
