// What tests and benchmarks stand on: a database to clone, the production build, a browser; and an environment in
// which nothing of the developer's own can be reached.
import process from 'node:process'
import { step } from '../say.mjs'
import { makeReady } from '../setup/ready.mjs'
import { ensureChromium } from './chromium.mjs'

/** A developer's own settings must lead neither to their database nor to their mail server. */
const OWN =
  /^(DATABASE_URL|\w+_DATABASE_URL|DATA_DIR|SMTP_URL|PUBLIC_ADDRESS|NEXTAUTH_URL|HOST|PORT|DEMO|DEMO_ANCHOR|PG\w+)$/

function cleanEnvironment() {
  const kept = Object.entries(process.env).filter(([name]) => !OWN.test(name))
  return { ...Object.fromEntries(kept), SMTP_URL: '', DATABASE_URL: '' }
}

/** The build that `up` left is used when it is up to date; a running server's is never replaced. */
async function chooseBuild() {
  const { isBuilt } = await import('../setup/build.mjs')
  const folder = isBuilt('.next') ? '.next' : '.next-test'
  await makeReady({ built: folder })
  return folder
}

async function startDatabase() {
  const { startScratchCluster, makeTemplate } = await import('./scratch.mjs')
  const cluster = await step('starting a throwaway database', startScratchCluster)
  try {
    await makeTemplate(cluster)
    return cluster
  } catch (error) {
    await cluster.remove()
    throw error
  }
}

/**
 * @param {{needsDatabase?: boolean, needsBuild?: boolean, needsBrowser?: boolean}} needs
 * @returns {Promise<{env: object, remove: () => Promise<void>}>}
 */
export async function layGround({ needsDatabase, needsBuild, needsBrowser }) {
  const env = cleanEnvironment()
  await makeReady({ generated: true })
  if (needsBrowser) env.TEST_CHROMIUM = (await ensureChromium()) ?? ''
  if (needsBuild) env.DIST_DIR = await chooseBuild()
  if (!needsDatabase) return { env, remove: async () => {} }
  const cluster = await startDatabase()
  env.TEST_DATABASE_URL = cluster.adminUrl
  env.TEST_PASSWORDS = JSON.stringify(cluster.passwords)
  return { env, remove: cluster.remove }
}
