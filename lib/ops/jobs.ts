// The jobs as a process of their own, so that long work never holds up a request.
import { TASKS } from '@/lib/ops/tasks'
import { startJobs } from '@/lib/platform/jobs'
import { FOOD_PLAN_JOBS } from './food-plan'
import { WATCH_JOBS } from './watch'

async function keepJobs() {
  const { tasks, everyMinute } = WATCH_JOBS
  const jobs = await startJobs({ tasks: { ...tasks, ...TASKS, ...FOOD_PLAN_JOBS.tasks }, everyMinute })
  process.on('message', (message) => {
    const isStop =
      typeof message === 'object' && message !== null && 'state' in message && message.state === 'stop'
    if (isStop) void jobs.stop().then(() => process.exit(0))
  })
  process.send?.({ state: 'ready' })
}

void keepJobs()
