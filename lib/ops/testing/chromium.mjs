// The browser of the tests: one that is there, else Debian's package where it may be installed.
import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import process from 'node:process'
import { isRoot } from '../database/postgres-user.mjs'
import { runProgram } from '../process/command.mjs'
import { step } from '../say.mjs'

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable']
const APPLICATIONS = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
]

function which(name) {
  try {
    return execFileSync('/bin/sh', ['-c', 'command -v "$1"', 'sh', name], { encoding: 'utf8' }).trim() || null
  } catch {
    return null
  }
}

export function findChromium() {
  const chosen = process.env.CHROMIUM
  if (chosen) return fs.existsSync(chosen) ? chosen : null
  return NAMES.map(which).find(Boolean) ?? APPLICATIONS.find((file) => fs.existsSync(file)) ?? null
}

async function installChromium() {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  await runProgram('apt-get', ['update', '-q'], { env })
  await runProgram('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium'], { env })
}

export const howToGetChromium =
  'The browser tests need Chromium and none was found. On Debian: sudo apt-get install chromium. Elsewhere install Chromium or Chrome and name it: CHROMIUM=/path/to/it npm test'

/** @returns {Promise<string | null>} its path; null where there is none and it may not be installed here */
export async function ensureChromium() {
  const found = findChromium()
  if (found || process.env.CHROMIUM || !isRoot() || !which('apt-get')) return found
  try {
    await step('installing the Debian package chromium', installChromium)
  } catch (error) {
    process.stderr.write(`${error.message}\n`)
  }
  return findChromium()
}
