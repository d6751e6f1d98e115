// A lock file that says who holds it and survives neither a kill -9 nor a recycled process id:
// a holder is alive when its process exists and started when the file says it did.
import fs from 'node:fs'
import os from 'node:os'
import process from 'node:process'
import { readProcess } from './life.mjs'

const FRESH_MS = 30_000

/** Another container or machine on the same folder: its processes are not ours to see, its heartbeat is. */
const isHeldElsewhere = (file, holder) =>
  holder.machine !== os.hostname() && Date.now() - fs.statSync(file).mtimeMs < FRESH_MS

/** The holder written in the file when it still lives, else null. */
export function readHolder(file) {
  try {
    const holder = JSON.parse(fs.readFileSync(file, 'utf8'))
    const lives = holder.machine === os.hostname() && readProcess(holder.pid)?.birth === holder.birth
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
  const own = { pid: process.pid, birth: readProcess(process.pid)?.birth, machine: os.hostname() }
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
