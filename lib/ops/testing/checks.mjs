// Format, lint and types: the part of the checks that runs no test.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from '../place.mjs'
import { runProgram } from '../process/command.mjs'
import { runCheck } from './tally.mjs'

const program = (file) => inProject('node_modules', file)

/** Next writes the declarations of its routes and of style sheets; the types do not add up without them. */
async function ensureRouteTypes() {
  if (fs.existsSync(inProject('next-env.d.ts')) && fs.existsSync(inProject('.next/types'))) return
  const env = { ...process.env, NEXT_TELEMETRY_DISABLED: '1', NEXT_IGNORE_INCORRECT_LOCKFILE: '1' }
  await runProgram(process.execPath, [program('next/dist/bin/next'), 'typegen'], {
    name: 'next typegen',
    env,
  })
}

export async function runStyleAndTypes() {
  const style = await runCheck(process.execPath, [
    program('@biomejs/biome/bin/biome'),
    'check',
    '--error-on-warnings',
    '.',
  ])
  await ensureRouteTypes()
  const types = await runCheck(process.execPath, [program('typescript/bin/tsc'), '--noEmit', '-p', '.'])
  return { passed: style.passed + types.passed, failed: style.failed + types.failed }
}
