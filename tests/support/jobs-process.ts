import { spawn } from 'node:child_process'
import type { TestDatabase } from './clone'

/** The jobs of a test database, as they run beside the server. */
export async function startJobsProcess(
  database: TestDatabase,
  address: string,
): Promise<{ stop(): Promise<void> }> {
  const child = spawn(process.execPath, ['--import', 'tsx', 'lib/ops/jobs.ts'], {
    env: { ...process.env, ...database.environment, PUBLIC_ADDRESS: address },
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  })
  await new Promise<void>((resolve, reject) => {
    child.once('message', () => resolve())
    child.once('exit', (code) => reject(new Error(`the jobs ended with ${code}`)))
  })
  const stop = () =>
    new Promise<void>((resolve) => {
      child.once('exit', () => resolve())
      child.send({ state: 'stop' })
    })
  return { stop }
}
