// Installed, generated, built: whoever comes second on one clone waits for the first.
import { createHash } from 'node:crypto'
import os from 'node:os'
import path from 'node:path'
import { projectFolder } from '../place.mjs'
import { withLock } from '../process/lock.mjs'
import { ensureInstalled } from './install.mjs'

const name = createHash('sha256').update(projectFolder).digest('hex').slice(0, 12)
const user = os.userInfo().uid
const lockFile = path.join(os.tmpdir(), `oothecary-setup-${name}-${user}.lock`)

/** @param {{generated?: boolean, built?: string | boolean}} wanted `built` may name the build folder */
export function makeReady({ generated = false, built = false } = {}) {
  return withLock(lockFile, async () => {
    await ensureInstalled()
    if (generated || built) await (await import('./generate.mjs')).ensureGenerated()
    if (built) await (await import('./build.mjs')).ensureBuilt(built === true ? undefined : built)
  })
}
