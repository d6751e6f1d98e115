import { readdirSync, readFileSync } from 'node:fs'

const TICKS_A_SECOND = 100
const PAGE_BYTES = 4096

type Stat = { parent: number; cpuMs: number; residentMb: number }

/** Milliseconds of processor time that a process and all it started have used so far (Linux, from /proc). */
export function treeCpuMs(root: number): number {
  return sumOverTree(root, ({ cpuMs }) => cpuMs)
}

/** Megabytes of memory that a process and all it started hold now; what two of them share counts twice. */
export function treeResidentMb(root: number): number {
  return sumOverTree(root, ({ residentMb }) => residentMb)
}

function sumOverTree(root: number, figure: (stat: Stat) => number): number {
  const stats = new Map<number, Stat>()
  for (const name of readdirSync('/proc')) if (/^\d+$/.test(name)) readStat(Number(name), stats)
  const belongs = (pid: number): boolean =>
    pid === root || (stats.has(pid) && belongs(stats.get(pid)?.parent ?? 0))
  let sum = 0
  for (const [pid, stat] of stats) if (belongs(pid)) sum += figure(stat)
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
  const [parent = 0, user = 0, system = 0, pages = 0] = [fields[1], fields[11], fields[12], fields[21]]
  into.set(pid, {
    parent,
    cpuMs: ((user + system) * 1000) / TICKS_A_SECOND,
    residentMb: (pages * PAGE_BYTES) / 1_048_576,
  })
}
