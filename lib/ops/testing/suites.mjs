// Which test files make which suite, and in which order they are run: those of one line one after another, and the two
// lines side by side. What waits for a browser, a server or a process leaves a core to what only computes.
import fs from 'node:fs'
import path from 'node:path'
import { inProject } from '../place.mjs'
import { Refusal } from '../say.mjs'

const SUITES = [
  { name: 'architecture and domain', folders: ['tests/architecture', 'tests/domain'] },
  { name: 'features', folders: ['tests/features'], needsDatabase: true },
  { name: 'isolation', folders: ['tests/isolation'], needsDatabase: true },
  { name: 'races', folders: ['tests/races'], needsDatabase: true, isSerial: true },
  { name: 'faults', folders: ['tests/faults'], needsDatabase: true, isSerial: true },
  { name: 'documents', folders: ['tests/documents'] },
  { name: 'ops', folders: ['tests/ops'], needsDatabase: true, isSerial: true, line: 1 },
  {
    name: 'browser',
    folders: ['tests/browser'],
    needsDatabase: true,
    needsBrowser: true,
    config: 'vitest.browser.config.ts',
    line: 1,
  },
  { name: 'removals', folders: ['tests/removals'], needsDatabase: true, isSerial: true, line: 1 },
]

/** Whoever starts a server of the service needs it built. */
const SERVER_IMPORT = /support\/(server|demo-server|browser|up)['"]|tests\/browser\//

function listTests(folder) {
  if (!fs.existsSync(inProject(folder))) return []
  const names = fs.readdirSync(inProject(folder), { recursive: true })
  return names.filter((name) => name.endsWith('.test.ts')).map((name) => path.join(folder, name))
}

const needsBuild = (file) => SERVER_IMPORT.test(`${file}\n${fs.readFileSync(inProject(file), 'utf8')}`)

/** A test in a folder that no suite names would never run and never fail. */
function refuseStrays() {
  const named = new Set(SUITES.flatMap(({ folders }) => folders).flatMap(listTests))
  const strays = listTests('tests').filter((file) => !named.has(file))
  if (strays.length > 0)
    throw new Refusal(`No suite in lib/ops/testing/suites.mjs runs ${strays.join(', ')}.`)
}

/**
 * @param {string[]} filters parts of file names; none means everything
 * @returns {{name: string, files: string[], needsDatabase?: boolean, needsBrowser?: boolean, needsBuild: boolean,
 *   isSerial?: boolean, config?: string, line?: number}[]} a suite without files is left out only when filters asked for it
 */
export function chooseSuites(filters) {
  refuseStrays()
  const isChosen = (file) => filters.length === 0 || filters.some((part) => file.includes(part))
  return SUITES.map((suite) => {
    const files = suite.folders.flatMap(listTests).filter(isChosen).sort()
    return { ...suite, files, needsBuild: files.some(needsBuild) }
  }).filter(({ files }) => files.length > 0 || filters.length === 0)
}
