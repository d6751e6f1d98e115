// A stamp says for which lock file and sources a step was last done, so that it is not done again in vain.
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { inProject } from '../place.mjs'

function listFiles(entry) {
  if (!fs.existsSync(entry)) return []
  if (fs.statSync(entry).isFile()) return [entry]
  const found = fs.readdirSync(entry, { recursive: true, withFileTypes: true })
  return found.filter((each) => each.isFile()).map((each) => path.join(each.parentPath, each.name))
}

/**
 * @param {string[]} entries files and folders of the project; what is missing counts as missing
 * @param {(relativePath: string) => boolean} [isLeftOut]
 */
export function stampOf(entries, isLeftOut = () => false) {
  const hash = createHash('sha256')
  const files = entries.flatMap((entry) => listFiles(inProject(entry))).sort()
  for (const file of files) {
    const name = path.relative(inProject(), file)
    if (!isLeftOut(name)) hash.update(`${name}\0`).update(fs.readFileSync(file)).update('\0')
  }
  return hash.digest('hex')
}

export const hasStamp = (file, stamp) => fs.existsSync(file) && fs.readFileSync(file, 'utf8') === stamp

export function writeStamp(file, stamp) {
  fs.mkdirSync(path.dirname(file), { recursive: true })
  fs.writeFileSync(file, stamp)
}
