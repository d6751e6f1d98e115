import { execFileSync } from 'node:child_process'
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'

const projectFolder = path.resolve(import.meta.dirname, '../..')
const PARTS = ['app', 'components', 'lib', 'prisma', 'tests', 'node_modules']
const FILES = [
  'package.json',
  'tsconfig.json',
  'next.config.ts',
  'postcss.config.mjs',
  'proxy.ts',
  'instrumentation.ts',
]

export type ScratchProject = { folder: string; remove: () => void }

/** A copy of the project that may be changed and built; linked, not copied, where the disk allows it. */
export function copyProject(): ScratchProject {
  const folder = mkdtempSync(path.join(tmpdir(), 'oothecary-'))
  for (const part of PARTS) {
    const from = path.join(projectFolder, part)
    try {
      execFileSync('cp', ['-al', from, folder], { stdio: 'ignore' })
    } catch {
      cpSync(from, path.join(folder, part), { recursive: true })
    }
  }
  for (const file of FILES)
    if (existsSync(path.join(projectFolder, file)))
      cpSync(path.join(projectFolder, file), path.join(folder, file))
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) }
}

/** Writes a file anew, so that the original behind a link stays as it is. */
export function replaceFile(file: string, text: string): void {
  rmSync(file, { force: true })
  writeFileSync(file, text)
}

export function readText(file: string): string {
  return readFileSync(file, 'utf8')
}

export function buildProject(folder: string): void {
  const env = {
    ...process.env,
    DIST_DIR: '.next',
    NEXT_TELEMETRY_DISABLED: '1',
    NODE_ENV: 'production' as const,
  }
  execFileSync(process.execPath, ['node_modules/next/dist/bin/next', 'build'], {
    cwd: folder,
    env,
    stdio: 'ignore',
  })
}
