// The database is no child of ours (it outlives a kill -9 of `up`), so it is looked at from time to time.
import { isClusterRunning, startCluster } from '../database/cluster.mjs'
import { printError, say } from '../say.mjs'

const LOOK_MS = 5000
const LONGEST_MS = 60_000

/** @returns {() => void} ends the watch */
export function watchCluster(cluster, { password, port }, stopper) {
  let timer = null
  let isOver = false
  let delayMs = LOOK_MS

  const revive = async () => {
    say('The database has stopped; starting it again.')
    const newPort = await startCluster(cluster, { password, wantedPort: port })
    if (newPort === port) return
    say(`Its port ${port} was taken meanwhile. Please start Oothecary again.`)
    stopper.stop(1)
  }

  const look = async () => {
    try {
      if (!isOver && !(await isClusterRunning(cluster)) && !isOver) await revive()
      delayMs = LOOK_MS
    } catch (error) {
      printError(error)
      delayMs = Math.min(delayMs * 2, LONGEST_MS)
    }
    plan()
  }

  const plan = () => {
    if (isOver) return
    timer = setTimeout(look, delayMs)
    timer.unref()
  }

  plan()
  return () => {
    isOver = true
    clearTimeout(timer)
  }
}
