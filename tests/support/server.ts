import { type ChildProcess, spawn } from 'node:child_process'
import net from 'node:net'
import path from 'node:path'
import type { TestDatabase } from './clone'

export type TestServer = {
  /** Like http://127.0.0.1:40123, without a slash at the end. */
  address: string
  /** Its process, for who looks at its memory. */
  pid: number
  /** Everything it printed so far. */
  output(): string
  stop(): Promise<void>
  /** Ends it as a power cut does: nothing in flight is finished. */
  kill(): Promise<void>
}

const projectFolder = path.resolve(import.meta.dirname, '../..')

export function findFreePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = net.createServer()
    server.once('error', reject)
    server.listen({ host: '127.0.0.1', port: 0 }, () => {
      const address = server.address()
      const port = typeof address === 'object' && address !== null ? address.port : 0
      server.close(() => resolve(port))
    })
  })
}

function spawnServer(env: NodeJS.ProcessEnv, folder: string): { child: ChildProcess; read(): string } {
  const guard = path.join(folder, 'lib/ops/process/end-with-parent.mjs')
  const child = spawn(process.execPath, ['--import', guard, path.join(folder, 'lib/ops/web.mjs')], {
    cwd: folder,
    env,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
  })
  let output = ''
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (chunk) => (output += chunk))
  return { child, read: () => output }
}

/**
 * The production build, serving one test database. `more` adds to or replaces its environment; with PORT the server
 * stands where another one stood before, and `folder` holds another build.
 */
export async function startServer(
  database: TestDatabase,
  more: Record<string, string> = {},
  folder: string = projectFolder,
): Promise<TestServer> {
  const port = Number(more.PORT) || (await findFreePort())
  const address = `http://127.0.0.1:${port}`
  const own = { HOST: '127.0.0.1', PORT: String(port), PUBLIC_ADDRESS: address, NEXTAUTH_URL: address }
  const env = { ...process.env, ...database.environment, ...own, TZ: 'UTC', NODE_ENV: 'production', ...more }
  const { child, read } = spawnServer(env as NodeJS.ProcessEnv, folder)
  await new Promise<void>((resolve, reject) => {
    child.once('message', () => resolve())
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}:\n${read()}`)))
  })
  const isOver = () => child.exitCode !== null || child.signalCode !== null
  const end = (how: () => void) =>
    new Promise<void>((resolve) => {
      if (isOver()) return resolve()
      child.once('exit', () => resolve())
      how()
    })
  return {
    address,
    pid: child.pid ?? 0,
    output: read,
    stop: () => end(() => child.send({ state: 'stop' })),
    kill: () => end(() => child.kill('SIGKILL')),
  }
}
