import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type FoodRoom, loadFoodRoom } from '@/lib/features/food-room/data'
import { listPreyLines } from '@/lib/features/prey/data'
import { loadPage } from '@/lib/platform/page'

export type BoundsPage = Pick<FoodRoom, 'limits' | 'closedDays'> & {
  today: PlainDate
  mayWrite: boolean
  mouths: (FoodRoom['mouths'][number] & { lineName: string })[]
  lines: { value: string; label: string }[]
}

/** Others who eat, closed days and limits: what bounds the plan besides animals and jars. */
export async function loadBoundsPage(slug: string): Promise<BoundsPage> {
  return loadPage({ slug, permission: 'live-food:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const lines = await listPreyLines(tx, workspaceId)
    const { limits, closedDays, mouths } = await loadFoodRoom(tx, workspaceId, { today })
    const nameOf = (id: string) => lines.find(({ line }) => line.id === id)?.line.name ?? id
    return {
      today,
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      limits,
      closedDays: closedDays.filter(({ on }) => on >= today),
      mouths: mouths
        .filter(({ until }) => until === null || until >= addDays(today, -30))
        .map((mouth) => ({ ...mouth, lineName: nameOf(mouth.line) })),
      lines: lines.map(({ line }) => ({ value: line.id, label: line.name })),
    }
  })
}
