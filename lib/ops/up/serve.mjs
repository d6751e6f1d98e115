// The two children of `up`: the web server and the jobs.
import { serverEnvironment } from '../environment.mjs'
import { inProject } from '../place.mjs'
import { keepChild } from '../process/children.mjs'
import { step } from '../say.mjs'

const WEB_GRACE_MS = 12_000 // it drains for up to ten seconds itself
const JOBS_GRACE_MS = 10_000

/** Not to be waited for by a stop: a child that is not ready yet is killed. */
export async function serve(instance, stopper) {
  if (stopper.isStopping()) return
  const env = serverEnvironment(instance)
  const jobs = keepChild({
    name: 'jobs process',
    args: [
      '--import',
      inProject('lib/platform/give-way.mjs'),
      '--import',
      'tsx',
      inProject('lib/ops/jobs.ts'),
    ],
    env,
  })
  stopper.onStop(() => jobs.stop(JOBS_GRACE_MS))
  const webArguments = [inProject('lib/ops/web.mjs'), ...(instance.isDev ? ['--dev'] : [])]
  const web = keepChild({ name: 'web server', args: webArguments, env })
  stopper.onStop(() => web.stop(WEB_GRACE_MS))
  stopper.onHurry(() => {
    for (const child of [web, jobs]) child.stop(0)
  })
  await step('starting the server', () => Promise.all([web.ready, jobs.ready]))
  instance.lock.update({ state: 'ready', address: instance.address })
}
