// npm run up: from a fresh clone to a running service. Node built-ins only until it has installed.
import process from 'node:process'
import { claimDataFolder, findDataFolder, runningFileOf } from './data-folder.mjs'
import { takeLock } from './process/lock.mjs'
import { printError, say } from './say.mjs'
import { checkNodeVersion, loadEnvFile, readSettings } from './settings.mjs'
import { makeReady } from './setup/ready.mjs'
import { checkPort, checkSpace } from './up/checks.mjs'
import { printHolder, printReady } from './up/messages.mjs'
import { makeStopper } from './up/stopper.mjs'

const isDev = process.argv.includes('--dev')

async function claim() {
  checkNodeVersion()
  loadEnvFile()
  const settings = readSettings()
  const dataFolder = findDataFolder(settings, { isTold: true })
  claimDataFolder(dataFolder)
  return { settings, dataFolder, lock: takeLock(runningFileOf(dataFolder)) }
}

async function bringUp({ settings, dataFolder, lock }, stopper) {
  const port = await checkPort(settings)
  checkSpace(dataFolder)
  await stopper.guard(() => makeReady({ generated: true }))
  const { openDatabase } = await import('./up/database.mjs')
  const { serve } = await import('./up/serve.mjs')
  const own = { settings: { ...settings, port }, dataFolder, lock, isDev }
  const instance = await stopper.guard(() => openDatabase(own, stopper))
  if (!isDev) await stopper.guard(() => makeReady({ built: true }))
  await serve(instance, stopper)
  if (!stopper.isStopping()) printReady(instance)
}

async function main() {
  const { settings, dataFolder, lock } = await claim()
  if (lock.holder) return printHolder(lock.holder, dataFolder)
  say('Oothecary is starting. Ctrl-C stops it.')
  const stopper = makeStopper()
  stopper.onStop(() => lock.release())
  try {
    await bringUp({ settings, dataFolder, lock }, stopper)
  } catch (error) {
    if (!stopper.isStopping()) printError(error)
    await stopper.stop(1)
  }
}

try {
  await main()
} catch (error) {
  printError(error)
  process.exitCode = 1
}
