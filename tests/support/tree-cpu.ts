import { readdirSync, readFileSync } from 'node:fs'

const TICKS_A_SECOND = 100

type Stat = { parent: number; cpuMs: number }

/** Milliseconds of processor time that a process and all it started have used so far (Linux, from /proc). */
export function treeCpuMs(root: number): number {
  const stats = new Map<number, Stat>()
  for (const name of readdirSync('/proc')) if (/^\d+$/.test(name)) readStat(Number(name), stats)
  const belongs = (pid: number): boolean =>
    pid === root || (stats.has(pid) && belongs(stats.get(pid)?.parent ?? 0))
  let sum = 0
  for (const [pid, { cpuMs }] of stats) if (belongs(pid)) sum += cpuMs
  return sum
}

/** A process may end while it is read; then it is not counted. */
function readStat(pid: number, into: Map<number, Stat>): void {
  let text = ''
  try {
    text = readFileSync(`/proc/${pid}/stat`, 'utf8')
  } catch {
    return
  }
  const fields = text
    .slice(text.lastIndexOf(')') + 2)
    .split(' ')
    .map(Number)
  const [parent = 0, user = 0, system = 0] = [fields[1], fields[11], fields[12]]
  into.set(pid, { parent, cpuMs: ((user + system) * 1000) / TICKS_A_SECOND })
}
