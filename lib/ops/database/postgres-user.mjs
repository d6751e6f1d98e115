// Postgres refuses to run as root, so somebody else has to, and must be able to reach what it needs.
import { execFileSync, spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import process from 'node:process'
import { Refusal } from '../say.mjs'

export const isRoot = () => process.getuid?.() === 0

function lookUp(name) {
  try {
    const ask = (flag) => Number(execFileSync('id', [flag, name], { encoding: 'utf8', stdio: 'pipe' }))
    return { name, uid: ask('-u'), gid: ask('-g') }
  } catch {
    return null
  }
}

function ownerOf(folder) {
  const { uid, gid } = fs.statSync(folder)
  return uid === 0 ? null : { name: `user ${uid}`, uid, gid }
}

/** Null when this process itself may run Postgres; else the owner of existing data, `postgres` or `nobody`. */
export function choosePostgresUser(clusterFolder) {
  if (!isRoot()) return null
  const owner = fs.existsSync(clusterFolder) ? ownerOf(clusterFolder) : null
  const user = owner ?? lookUp('postgres') ?? lookUp('nobody')
  if (user) return user
  throw new Refusal(
    'PostgreSQL does not run as root, and this machine has neither a user "postgres" nor "nobody". Run this as an ordinary user.',
  )
}

/** What to add to spawn options so that the program runs as that user, from a folder everyone can enter. */
export const asUser = (user) => (user ? { uid: user.uid, gid: user.gid, cwd: '/' } : {})

function canEnter(user, folder) {
  const asked = spawnSync('/bin/sh', ['-c', 'cd "$1"', 'sh', folder], { ...asUser(user), stdio: 'ignore' })
  return asked.status === 0
}

/** The first folder on the way that keeps the user out, or null. What does not exist yet keeps nobody out. */
export function findBlockingFolder(user, folder) {
  if (!user) return null
  const parts = folder.split(path.sep).filter(Boolean)
  const way = ['/', ...parts.map((_, at) => path.join('/', ...parts.slice(0, at + 1)))]
  const isFolder = (step) => fs.existsSync(step) && fs.statSync(step).isDirectory()
  return way.find((step) => isFolder(step) && !canEnter(user, step)) ?? null
}
