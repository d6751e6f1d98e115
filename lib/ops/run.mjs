// npm run <verb>: runs one TypeScript command with the environment of the installation in DATA_DIR.
// Prints nothing itself, so that a command's answer can be piped on.
import { spawn } from 'node:child_process'
import process from 'node:process'
import { inProject, projectFolder } from './place.mjs'
import { runCommandBody } from './say.mjs'
import { requireInstalled } from './setup/install.mjs'

function runFile(file, { args, env }) {
  const runner = inProject('lib/ops/process/run-file.mjs')
  const child = spawn(process.execPath, ['--import', 'tsx', runner, inProject(file), ...args], {
    cwd: projectFolder,
    env,
    stdio: 'inherit',
  })
  process.on('SIGTERM', () => child.kill('SIGTERM'))
  return new Promise((resolve, reject) => {
    child.once('error', reject)
    child.once('exit', (code) => resolve(code ?? 1))
  })
}

await runCommandBody(async () => {
  requireInstalled()
  const { commandEnvironment } = await import('./environment.mjs')
  const { withInstance } = await import('./instance.mjs')
  const [file, ...args] = process.argv.slice(2)
  process.exitCode = await withInstance((instance) => {
    const env = { ...commandEnvironment(instance), IS_SERVING: instance.isServing ? '1' : '' }
    return runFile(file, { args, env })
  })
})
