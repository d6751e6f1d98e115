// The production build, when sources or lock file have changed.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from '../place.mjs'
import { runProgram } from '../process/command.mjs'
import { step } from '../say.mjs'
import { hasStamp, stampOf, writeStamp } from './stamp.mjs'

const SOURCES = [
  'app',
  'components',
  'lib',
  'prisma/schema',
  'package-lock.json',
  'package.json',
  'tsconfig.json',
  'next.config.ts',
  'postcss.config.mjs',
  'proxy.ts',
  'instrumentation.ts',
]

/** What runs beside the server is no part of the build, and what is generated follows from the rest. */
const isOutsideBuild = (name) => name.startsWith('lib/ops/') || name.startsWith('lib/platform/generated/')

export const stampOfSources = () => stampOf(SOURCES, isOutsideBuild)

const stampFileOf = (buildFolder) => inProject(buildFolder, 'oothecary-built')

export const isBuilt = (buildFolder) => hasStamp(stampFileOf(buildFolder), stampOfSources())

const buildEnvironment = (buildFolder) => ({
  ...process.env,
  NODE_ENV: 'production',
  DIST_DIR: buildFolder,
  NEXT_TELEMETRY_DISABLED: '1',
  NEXT_IGNORE_INCORRECT_LOCKFILE: '1', // it would ask the registry about a lock file that names no addresses
})

export async function ensureBuilt(buildFolder = process.env.DIST_DIR || '.next') {
  const stamp = stampOfSources()
  if (hasStamp(stampFileOf(buildFolder), stamp)) return
  fs.rmSync(stampFileOf(buildFolder), { force: true }) // from here on what stands there is half a build
  const next = inProject('node_modules/next/dist/bin/next')
  const options = { name: 'next build', env: buildEnvironment(buildFolder) }
  await step('building', () => runProgram(process.execPath, [next, 'build'], options))
  writeStamp(stampFileOf(buildFolder), stamp)
}
