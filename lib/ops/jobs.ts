// The jobs as a process of their own, so that long work never holds up a request.
import { startJobs } from '@/lib/platform/jobs'
import { WATCH_JOBS } from './watch'

async function keepJobs() {
  const jobs = await startJobs(WATCH_JOBS)
  process.on('message', (message) => {
    const isStop =
      typeof message === 'object' && message !== null && 'state' in message && message.state === 'stop'
    if (isStop) void jobs.stop().then(() => process.exit(0))
  })
  process.send?.({ state: 'ready' })
}

void keepJobs()
