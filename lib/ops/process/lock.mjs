// A lock file that says who holds it and survives neither a kill -9 nor a recycled process id:
// a holder is alive when its process exists and started when the file says it did.
import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import process from 'node:process'

const FRESH_MS = 30_000

/** A word that two processes with one id do not share: when it started. Null where that cannot be learnt. */
function birthOf(pid) {
  try {
    if (process.platform === 'linux') {
      const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8')
      return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19]
    }
    return execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' }).trim()
  } catch {
    return null
  }
}

function isAlive(pid, birth) {
  try {
    process.kill(pid, 0)
  } catch (error) {
    if (error.code !== 'EPERM') return false
  }
  return birth === null || birthOf(pid) === null || birthOf(pid) === birth
}

/** Another container or machine on the same folder: its processes are not ours to see, its heartbeat is. */
const isHeldElsewhere = (file, holder) =>
  holder.machine !== os.hostname() && Date.now() - fs.statSync(file).mtimeMs < FRESH_MS

/** The holder written in the file when it still lives, else null. */
export function readHolder(file) {
  try {
    const holder = JSON.parse(fs.readFileSync(file, 'utf8'))
    const lives = holder.machine === os.hostname() && isAlive(holder.pid, holder.birth)
    return lives || isHeldElsewhere(file, holder) ? holder : null
  } catch (error) {
    if (error.code === 'ENOENT' || error instanceof SyntaxError) return null
    throw error
  }
}

/** Set aside first and looked at again: another process may have taken the lock since it was found stale. */
function clearStale(file) {
  const aside = `${file}.stale.${process.pid}`
  try {
    fs.renameSync(file, aside)
    if (readHolder(aside)) fs.linkSync(aside, file)
  } catch (error) {
    if (!['ENOENT', 'EEXIST'].includes(error.code)) throw error
  }
  fs.rmSync(aside, { force: true })
}

function writeWhole(file, holder) {
  const draft = `${file}.${process.pid}`
  fs.writeFileSync(draft, JSON.stringify(holder))
  return draft
}

/**
 * Takes the lock, or returns who holds it.
 * @returns {{holder: object} | {update: (facts: object) => void, release: () => void}}
 */
export function takeLock(file) {
  const own = { pid: process.pid, birth: birthOf(process.pid), machine: os.hostname() }
  const draft = writeWhole(file, own)
  try {
    for (;;) {
      try {
        fs.linkSync(draft, file)
        return held(file, own)
      } catch (error) {
        if (error.code !== 'EEXIST') throw error
      }
      const holder = readHolder(file)
      if (holder) return { holder }
      clearStale(file)
    }
  } finally {
    fs.rmSync(draft, { force: true })
  }
}

function held(file, own) {
  const heartbeat = setInterval(() => {
    const now = new Date()
    fs.utimes(file, now, now, () => {})
  }, FRESH_MS / 3)
  heartbeat.unref()
  return {
    update(facts) {
      Object.assign(own, facts)
      fs.renameSync(writeWhole(file, own), file)
    },
    release() {
      clearInterval(heartbeat)
      fs.rmSync(file, { force: true })
    },
  }
}

/** Runs the work alone; who comes second waits. */
export async function withLock(file, work) {
  let lock = takeLock(file)
  while (lock.holder) {
    await new Promise((resolve) => setTimeout(resolve, 300))
    lock = takeLock(file)
  }
  try {
    return await work()
  } finally {
    lock.release()
  }
}
