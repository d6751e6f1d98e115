import type { DayTask } from '@/lib/domain/day-sheet/task'
import { loadDayList } from '@/lib/features/day-sheet/data'
import { dayListApi } from '@/lib/features/day-sheet/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(dayListApi, async ({ tx, workspace, query }) => {
  const { today, tasks } = await loadDayList(tx, workspace, query.asOf ?? query.on)
  return { on: today, items: tasks.map(present) }
})

function present({ subject, ...task }: DayTask) {
  return {
    ...task,
    clutch: subject.type === 'clutch' ? subject.id : null,
    eggCase: subject.type === 'egg-case' ? subject.id : null,
    incident: subject.type === 'incident' ? subject.id : null,
    order: subject.type === 'order' ? subject.id : null,
    individuals: subject.type === 'individuals' ? subject.ids : [],
    cultures: subject.type === 'cultures' ? subject.ids : [],
    prey: subject.type === 'prey-line' ? { line: subject.id, count: subject.count } : null,
  }
}
