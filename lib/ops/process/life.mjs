// Whether a process that a file names still lives. Its number alone does not say: numbers are given out again,
// and in a container where nobody buries the dead a killed process keeps its number.
import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import process from 'node:process'

function readLinuxProcess(pid) {
  try {
    const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8')
    const name = stat.slice(stat.indexOf('(') + 1, stat.lastIndexOf(')'))
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
    return { name, isDead: fields[0] === 'Z' || fields[0] === 'X', birth: fields[19] }
  } catch {
    return null
  }
}

function readProcessByPs(pid) {
  try {
    const ask = (field) =>
      execFileSync('ps', ['-o', `${field}=`, '-p', String(pid)], { encoding: 'utf8' }).trim()
    return { name: ask('ucomm'), isDead: ask('stat').startsWith('Z'), birth: ask('lstart') }
  } catch {
    return null
  }
}

/**
 * @param {number} pid
 * @returns {{name: string, birth: string} | null} `birth` is a word for when it started; null for who is no more
 */
export function readProcess(pid) {
  const found = process.platform === 'linux' ? readLinuxProcess(pid) : readProcessByPs(pid)
  return found && !found.isDead ? { name: found.name, birth: found.birth } : null
}
