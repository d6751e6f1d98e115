// The database client, generated from prisma/schema when that has changed.
import process from 'node:process'
import { inProject } from '../place.mjs'
import { runProgram } from '../process/command.mjs'
import { step } from '../say.mjs'
import { hasStamp, stampOf, writeStamp } from './stamp.mjs'

const stampFile = inProject('lib/platform/generated/stamp')

export const prismaProgram = inProject('node_modules/prisma/build/index.js')

/**
 * The command looks for an engine that it would fetch from outside the registry; generating needs none, so any
 * program that exists will do.
 */
export const prismaEnvironment = () => ({
  ...process.env,
  PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
  PRISMA_HIDE_UPDATE_MESSAGE: '1',
  CHECKPOINT_DISABLE: '1',
})

export async function ensureGenerated() {
  const stamp = stampOf(['prisma/schema', 'prisma.config.ts', 'package-lock.json'])
  if (hasStamp(stampFile, stamp)) return
  const options = { name: 'prisma generate', env: prismaEnvironment() }
  await step('generating the database client', () =>
    runProgram(process.execPath, [prismaProgram, 'generate'], options),
  )
  writeStamp(stampFile, stamp)
}
