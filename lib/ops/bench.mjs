// npm run bench [-- NAME …]: runs tests/bench/*.bench.ts one after another; each prints its own table of ratios.
// Those named *.server.bench.ts get a throwaway database to clone and the production build, as tests do.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from './place.mjs'
import { runProgram } from './process/command.mjs'
import { Refusal, runCommandBody, say } from './say.mjs'
import { checkNodeVersion } from './settings.mjs'
import { layGround } from './testing/ground.mjs'

const filters = process.argv.slice(2)

function listBenchmarks() {
  const folder = inProject('tests/bench')
  const names = fs.existsSync(folder)
    ? fs.readdirSync(folder).filter((name) => name.endsWith('.bench.ts'))
    : []
  const chosen = names.filter((name) => filters.length === 0 || filters.some((part) => name.includes(part)))
  if (chosen.length === 0)
    throw new Refusal(`There is no such benchmark. There are: ${names.join(', ') || 'none yet'}`)
  return chosen.sort()
}

await runCommandBody(async () => {
  checkNodeVersion()
  const names = listBenchmarks()
  const isServed = names.some((name) => name.endsWith('.server.bench.ts'))
  const ground = await layGround({ needsDatabase: isServed, needsBuild: isServed })
  try {
    for (const name of names) {
      say(`\n── ${name.replace(/(\.server)?\.bench\.ts$/, '')} ──`)
      const args = [
        '--import',
        'tsx',
        inProject('lib/ops/process/run-file.mjs'),
        inProject('tests/bench', name),
      ]
      await runProgram(process.execPath, args, { name, shown: true, env: ground.env })
    }
  } finally {
    await ground.remove()
  }
})
