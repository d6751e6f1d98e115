// Which test files make which suite, and in which order they are run.
import fs from 'node:fs'
import path from 'node:path'
import { inProject } from '../place.mjs'

const SUITES = [
  { name: 'architecture and domain', folders: ['tests/architecture', 'tests/domain'] },
  { name: 'features', folders: ['tests/features'], needsDatabase: true },
  { name: 'isolation', folders: ['tests/isolation'], needsDatabase: true },
  { name: 'races', folders: ['tests/races'], needsDatabase: true, isSerial: true },
  { name: 'documents', folders: ['tests/documents'] },
  { name: 'ops', folders: ['tests/ops'], needsDatabase: true, isSerial: true },
  {
    name: 'browser',
    folders: ['tests/browser'],
    needsDatabase: true,
    needsBrowser: true,
    config: 'vitest.browser.config.ts',
  },
]

/** Whoever starts a server of the service needs it built. */
const SERVER_IMPORT = /support\/(server|browser|up)['"]|tests\/browser\//

function listTests(folder) {
  if (!fs.existsSync(inProject(folder))) return []
  const names = fs.readdirSync(inProject(folder), { recursive: true })
  return names.filter((name) => name.endsWith('.test.ts')).map((name) => path.join(folder, name))
}

const needsBuild = (file) => SERVER_IMPORT.test(`${file}\n${fs.readFileSync(inProject(file), 'utf8')}`)

/**
 * @param {string[]} filters parts of file names; none means everything
 * @returns {{name: string, files: string[], needsDatabase?: boolean, needsBrowser?: boolean, needsBuild: boolean,
 *   isSerial?: boolean, config?: string}[]} a suite without files is left out only when filters asked for it
 */
export function chooseSuites(filters) {
  const isChosen = (file) => filters.length === 0 || filters.some((part) => file.includes(part))
  return SUITES.map((suite) => {
    const files = suite.folders.flatMap(listTests).filter(isChosen).sort()
    return { ...suite, files, needsBuild: files.some(needsBuild) }
  }).filter(({ files }) => files.length > 0 || filters.length === 0)
}
