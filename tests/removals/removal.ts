import { type ChildProcess, spawn } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { ROOT } from '@/tests/architecture/source/project'

export type Edit = { path: string; find: string; put: string }

/**
 * A guard that is taken out, and the tests of which at least one has to notice. `sql` takes it out of the database,
 * `edits` out of a copy of the source; `isBuilt` says that the copy has to be built before it can be asked.
 */
export type Removal = { guard: string; tests: string[]; sql?: string; edits?: Edit[]; isBuilt?: boolean }

const COPIED = ['app', 'components', 'lib', 'prisma', 'tests']
const FILES =
  /^(tsconfig\.json|package(-lock)?\.json|proxy\.ts|instrumentation\.ts|[\w.]+\.config\.(ts|mjs))$/

/** A copy of the project that may be broken. It lies inside the project, so that it finds the same packages. */
export function copyProject(name: string): string {
  const folder = path.join(ROOT, 'test-output/removals', name)
  fs.rmSync(folder, { recursive: true, force: true })
  fs.mkdirSync(folder, { recursive: true })
  const files = fs.readdirSync(ROOT).filter((each) => FILES.test(each) && each !== 'package-lock.json')
  for (const each of [...COPIED, ...files])
    fs.cpSync(path.join(ROOT, each), path.join(folder, each), { recursive: true })
  return folder
}

/** What is left of a copy would be checked and searched with the project itself. */
export function removeCopy(name: string): void {
  fs.rmSync(path.join(ROOT, 'test-output/removals', name), { recursive: true, force: true })
}

/** @throws when what is to be taken out is not there any more: then the removal proves nothing */
export function applyEdits(folder: string, { guard, edits = [] }: Removal): void {
  for (const edit of edits) {
    const file = path.join(folder, edit.path)
    const text = fs.readFileSync(file, 'utf8')
    if (!text.includes(edit.find))
      throw new Error(`${guard}: ${edit.path} does not hold ${edit.find} any more`)
    fs.writeFileSync(file, text.replace(edit.find, edit.put))
  }
}

export async function buildCopy(folder: string): Promise<void> {
  const next = path.join(ROOT, 'node_modules/next/dist/bin/next')
  await run([next, 'build'], { folder, env: { NODE_ENV: 'production', DIST_DIR: '.next' } })
}

type Report = { testResults: { status: string; assertionResults: { status: string; fullName: string }[] }[] }

/** Runs the named tests in a folder until one fails, and gives its name: that one notices is all that is asked. */
export async function listFailures(
  folder: string,
  removal: Removal,
  env: Record<string, string>,
): Promise<string[]> {
  const report = path.join(
    ROOT,
    'test-output/removals',
    `${removal.guard.replace(/\W+/g, '-').slice(0, 80)}.json`,
  )
  fs.rmSync(report, { force: true })
  const vitest = path.join(ROOT, 'node_modules/vitest/vitest.mjs')
  const args = [
    'run',
    '--reporter=json',
    `--outputFile=${report}`,
    '--root',
    folder,
    '--no-file-parallelism',
    '--bail=1',
  ]
  const code = await run([vitest, ...args, ...removal.tests], { folder, env })
  if (!fs.existsSync(report)) throw new Error(`${removal.guard}: the tests could not be run at all`)
  const { testResults }: Report = JSON.parse(fs.readFileSync(report, 'utf8'))
  const failures = testResults.flatMap(({ status, assertionResults }) => {
    const failed = assertionResults.filter((each) => each.status === 'failed').map(({ fullName }) => fullName)
    return failed.length === 0 && status === 'failed' ? ['a whole file'] : failed
  })
  return failures.length === 0 && code !== 0 ? ['an error outside of any test'] : failures
}

function run(
  args: string[],
  { folder, env }: { folder: string; env: Record<string, string> },
): Promise<number> {
  // The tests inside are a run of their own, and know nothing of the one around them.
  const outer = Object.entries(process.env).filter(([name]) => !/^(VITEST|NODE_ENV$|DIST_DIR$)/.test(name))
  const child = spawn(process.execPath, args, {
    cwd: folder,
    env: { ...Object.fromEntries(outer), ...env } as NodeJS.ProcessEnv,
    stdio: 'ignore',
  })
  return ended(child)
}

const ended = (child: ChildProcess) =>
  new Promise<number>((resolve) => child.once('exit', (code) => resolve(code ?? 1)))
