import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describeCluster, stopCluster } from '@/lib/ops/database/cluster.mjs'
import { inProject } from '@/lib/ops/place.mjs'

/** One `up`, started like the script does, on a data folder of the test's own. */
export type Up = {
  child: ChildProcess
  output(): string
  /** Waits until the text has been printed; fails, with everything printed, when it ends without. */
  says(text: string): Promise<void>
  /** Its exit code, null after a signal that killed it. */
  ended: Promise<number | null>
}

/** Root's Postgres runs as somebody else, who has to get in. */
export function makeDataFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'oothecary-up-'))
  fs.chmodSync(folder, 0o711)
  return path.join(folder, 'data')
}

function collectOutput(child: ChildProcess) {
  let output = ''
  const listeners = new Set<() => void>()
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (chunk) => {
      output += chunk
      for (const listener of listeners) listener()
    })
  }
  return { read: () => output, listeners }
}

export function startUp(dataFolder: string, more: Record<string, string> = {}): Up {
  const { npm_lifecycle_event: _, ...inherited } = process.env
  const env = { ...inherited, DATA_DIR: dataFolder, DEMO: 'off', PORT: '0', ...more }
  const child = spawn(process.execPath, [inProject('lib/ops/up.mjs')], {
    cwd: inProject(),
    env: env as NodeJS.ProcessEnv,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const { read, listeners } = collectOutput(child)
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  const says = (text: string) =>
    new Promise<void>((resolve, reject) => {
      const look = () => {
        if (!read().includes(text)) return
        listeners.delete(look)
        resolve()
      }
      listeners.add(look)
      void ended.then(() => reject(new Error(`it ended without saying "${text}":\n${read()}`)))
      look()
    })
  return { child, output: read, says, ended }
}

export const addressOf = (up: Up): string => /ready: (\S+)/.exec(up.output())?.[1] ?? ''

/** Ends what may still run on the folder and removes it. */
export async function removeDataFolder(dataFolder: string, ups: Up[]): Promise<void> {
  for (const up of ups) {
    if (up.child.exitCode === null && up.child.signalCode === null) up.child.kill('SIGTERM')
    await up.ended
  }
  const cluster = path.join(dataFolder, 'postgres')
  if (fs.existsSync(path.join(cluster, 'PG_VERSION')))
    await stopCluster(describeCluster(cluster), 'immediate')
  fs.rmSync(path.dirname(dataFolder), { recursive: true, force: true })
}

/** By /proc where there is one: a machine with nothing but Node.js may have no `ps`. */
export function listChildren(parent: number): number[] {
  if (!fs.existsSync('/proc/self/stat')) {
    const rows = execFileSync('ps', ['-axo', 'pid=,ppid='], { encoding: 'utf8' }).trim().split('\n')
    const pairs = rows.map((row) => row.trim().split(/\s+/).map(Number))
    return pairs.filter(([, ppid]) => ppid === parent).map(([pid]) => pid ?? 0)
  }
  const pids = fs.readdirSync('/proc').filter((name) => /^\d+$/.test(name))
  return pids.map(Number).filter((pid) => {
    const [state, ppid] = readStat(pid).split(') ')[1]?.split(' ') ?? []
    return Number(ppid) === parent && state !== 'Z'
  })
}

/** Nothing for a process that ended while the others were looked at. */
function readStat(pid: number): string {
  try {
    return fs.readFileSync(`/proc/${pid}/stat`, 'utf8')
  } catch (error) {
    if (['ENOENT', 'ESRCH'].includes((error as NodeJS.ErrnoException).code ?? '')) return ''
    throw error
  }
}
