// The jobs as a process of their own, so that long work never holds up a request.
import { TASKS } from '@/lib/ops/tasks'
import { startJobs } from '@/lib/platform/jobs'
import { FOOD_PLAN_JOBS } from './food-plan'
import { REMINDER_JOBS } from './reminders'
import { SHEET_BATCH_JOBS } from './sheet-batch'
import { WATCH_JOBS } from './watch'

async function keepJobs() {
  const jobs = await startJobs({
    tasks: {
      ...WATCH_JOBS.tasks,
      ...TASKS,
      ...FOOD_PLAN_JOBS.tasks,
      ...REMINDER_JOBS.tasks,
      ...SHEET_BATCH_JOBS.tasks,
    },
    everyMinute: [...WATCH_JOBS.everyMinute, ...REMINDER_JOBS.everyMinute],
    everyQuarterHour: REMINDER_JOBS.everyQuarterHour,
  })
  process.on('message', (message) => {
    const isStop =
      typeof message === 'object' && message !== null && 'state' in message && message.state === 'stop'
    if (isStop) void jobs.stop().then(() => process.exit(0))
  })
  process.send?.({ state: 'ready' })
}

void keepJobs()
