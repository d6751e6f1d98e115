// The database is no child of ours (it outlives a kill -9 of `up`), so it is looked at from time to time.
import { isClusterRunning, startCluster } from '../database/cluster.mjs'
import { hasLivingServer } from '../database/pid-file.mjs'
import { printError, say } from '../say.mjs'

const GLANCE_MS = 500
const LOOK_MS = 5000
const LONGEST_MS = 60_000

/** @returns {() => void} ends the watch */
export function watchCluster(cluster, { password, port }, stopper) {
  let timer = null
  let isOver = false
  let delayMs = LOOK_MS
  let lookedAt = Date.now()
  const canGlance = hasLivingServer(cluster.folder) // not where other users' processes are hidden

  const revive = async () => {
    say('The database has stopped; starting it again.')
    const newPort = await startCluster(cluster, { password, wantedPort: port })
    if (newPort === port) return
    say(`Its port ${port} was taken meanwhile. Please start Oothecary again.`)
    stopper.stop(1)
  }

  /** Who waits at the counter waits for the shorter of the two: a process that is gone is seen at a glance. */
  const glance = async () => {
    const isDue = Date.now() - lookedAt >= delayMs
    const isGone = canGlance && delayMs === LOOK_MS && !hasLivingServer(cluster.folder)
    if (isDue || isGone) await look()
    plan()
  }

  const look = async () => {
    try {
      if (!isOver && !(await isClusterRunning(cluster)) && !isOver) await revive()
      delayMs = LOOK_MS
    } catch (error) {
      printError(error)
      delayMs = Math.min(delayMs * 2, LONGEST_MS)
    }
    lookedAt = Date.now()
  }

  const plan = () => {
    if (isOver) return
    timer = setTimeout(glance, GLANCE_MS)
    timer.unref()
  }

  plan()
  return () => {
    isOver = true
    clearTimeout(timer)
  }
}
