// Installs what package-lock.json names, when it is not there yet. Built-ins only.
import fs from 'node:fs'
import process from 'node:process'
import { linkLibraries } from '../database/native.mjs'
import { inProject } from '../place.mjs'
import { CommandFailed, runProgram } from '../process/command.mjs'
import { Refusal, step } from '../say.mjs'
import { hasStamp, stampOf, writeStamp } from './stamp.mjs'

const stampFile = inProject('node_modules/.oothecary-installed')

const packagesOf = (file) => JSON.parse(fs.readFileSync(file, 'utf8')).packages

/** npm writes this list last: it says what really stands in node_modules, whoever installed it. */
function agreesWithLockFile() {
  const installedList = inProject('node_modules/.package-lock.json')
  if (!fs.existsSync(installedList)) return false
  const installed = packagesOf(installedList)
  const wanted = Object.entries(packagesOf(inProject('package-lock.json'))).filter(([place]) => place !== '')
  return wanted.every(([place, { version, optional, extraneous }]) =>
    installed[place] ? installed[place].version === version : optional === true || extraneous === true,
  )
}

const troubles = [
  [
    /EACCES|EPERM/,
    'node_modules belongs to another user, so nothing can be installed into it. Remove it, or run this as the user who made it.',
  ],
  [
    /ENOTFOUND|ECONNREFUSED|ETIMEDOUT|EAI_AGAIN|ENETUNREACH|ECONNRESET/,
    "The package registry cannot be reached. Check the connection (and npm's proxy settings), then run it again.",
  ],
  [
    /SELF_SIGNED_CERT|UNABLE_TO_VERIFY|CERT_/,
    "The package registry's certificate is not trusted here. Name your network's own: NODE_EXTRA_CA_CERTS=/path/to/it.pem npm run up",
  ],
  [
    /can only install packages when your package\.json and package-lock\.json|EUSAGE/,
    'package.json and package-lock.json do not agree. Run npm install and commit both.',
  ],
]

async function installPackages() {
  const npm = process.env.npm_execpath?.endsWith('.js')
    ? [process.execPath, process.env.npm_execpath]
    : ['npm']
  const [file, ...before] = npm
  try {
    await runProgram(file, [...before, 'ci', '--include=dev', '--no-progress', '--loglevel=warn'], {
      name: 'npm ci',
    })
  } catch (error) {
    if (error.code === 'ENOENT')
      throw new Refusal('npm was not found. It comes with Node.js; start this with: npm run up')
    const known = error instanceof CommandFailed && troubles.find(([words]) => words.test(error.output))
    if (known) throw new Refusal(`${known[1]}\n\n${error.message}`)
    throw error
  }
}

/** For a command that must print nothing but its answer, and so cannot install first. */
export function requireInstalled() {
  if (!fs.existsSync(stampFile))
    throw new Refusal('Nothing is installed yet. Start Oothecary once first: npm run up')
}

/** Formatting before a commit; a hook path that somebody chose is left alone. */
async function setCommitHook() {
  if (!fs.existsSync(inProject('.git')) || process.env.CI) return
  const git = (...args) => runProgram('git', args, { name: 'git' })
  try {
    await git('config', '--get', 'core.hooksPath')
  } catch {
    await git('config', 'core.hooksPath', '.githooks').catch(() => {}) // no git here: nothing to hook into
  }
}

export async function ensureInstalled() {
  const stamp = `${stampOf(['package-lock.json'])} ${process.platform} ${process.arch}`
  if (hasStamp(stampFile, stamp)) return
  if (!agreesWithLockFile()) await step('installing packages', installPackages)
  linkLibraries()
  await setCommitHook()
  writeStamp(stampFile, stamp)
}
