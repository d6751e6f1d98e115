// postmaster.pid: who serves a cluster, and on which port. Postgres clears away the file of a dead server itself,
// but takes the number for a living server when it is now another program's, or a dead one's that nobody buried
// (both happen in restarted containers). That case is settled here.
import fs from 'node:fs'
import path from 'node:path'
import process from 'node:process'
import { readProcess } from '../process/life.mjs'
import { Refusal } from '../say.mjs'

const PATIENCE_MS = 15_000
const LINE = { pid: 0, port: 3, sharedMemory: 6 }

const fileOf = (folder) => path.join(folder, 'postmaster.pid')

function readLine(folder, line) {
  const file = fileOf(folder)
  return fs.existsSync(file) ? (fs.readFileSync(file, 'utf8').split('\n')[line] ?? '') : ''
}

export const readPort = (folder) => Number(readLine(folder, LINE.port))

function isNumberInUse(pid) {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error.code === 'EPERM'
  }
}

export function namesAnotherProcess(folder) {
  const pid = Number(readLine(folder, LINE.pid))
  const canTell = readProcess(process.pid) !== null
  return pid > 0 && canTell && isNumberInUse(pid) && readProcess(pid)?.name !== 'postgres'
}

/** By a glance that costs next to nothing; whoever answers no has to be asked properly. */
export function hasLivingServer(folder) {
  const pid = Number(readLine(folder, LINE.pid))
  if (!(pid > 0)) return false
  return process.platform === 'linux' ? readProcess(pid)?.name === 'postgres' : isNumberInUse(pid)
}

/** Sessions of a killed server may still write for a moment; its block of shared memory shows that they live. */
function hasSurvivors(folder) {
  const [, id] = readLine(folder, LINE.sharedMemory).trim().split(/\s+/)
  const list = '/proc/sysvipc/shm'
  if (!id || !fs.existsSync(list)) return false
  const rows = fs.readFileSync(list, 'utf8').trim().split('\n').slice(1)
  const [, , , , , , attached] = rows.map((row) => row.trim().split(/\s+/)).find((row) => row[1] === id) ?? []
  return Number(attached ?? 0) > 0
}

export async function dropMisleadingPidFile(folder) {
  if (!namesAnotherProcess(folder)) return
  const startedAt = Date.now()
  while (hasSurvivors(folder)) {
    if (Date.now() - startedAt > PATIENCE_MS) {
      throw new Refusal(
        `The database in ${folder} was killed, but some of its processes still run. Wait for them, then start again.`,
      )
    }
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  fs.rmSync(fileOf(folder), { force: true })
}
