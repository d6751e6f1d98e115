import { instarNamingOf } from '@/lib/domain/instar/naming'
import { listPermissions, type Permission } from '@/lib/domain/role/permissions'
import { type DayList, loadDayList } from '@/lib/features/day-sheet/data'
import { listDoubts } from '@/lib/features/growth-fit/data'
import { presentDoubt, type ShownDoubt } from '@/lib/features/growth-fit/schema'
import { getSetPointOn, listZones } from '@/lib/features/zone/data'
import { loadPage } from '@/lib/platform/page'

export type DayZone = { id: string; name: string; dayC: number | null }
export type DaySheetPage = DayList & {
  workspaceName: string
  temperatureUnit: 'celsius' | 'fahrenheit'
  permissions: Permission[]
  zones: DayZone[]
  /** dates on record that are more likely a slip than true */
  doubts: ShownDoubt[]
  /** Nothing was ever recorded here, so the sheet says where to begin. */
  isNew: boolean
}

/** The first screen: what will be lost first comes first. */
export async function loadDaySheet(slug: string): Promise<DaySheetPage> {
  return loadPage({ slug, permission: 'day-sheet:read' }, async ({ tx, scope, workspace }) => {
    const zones = await listZones(tx, workspace.workspaceId)
    const list = await loadDayList(tx, workspace)
    const doubts = await listDoubts(tx, workspace.workspaceId)
    const wording = { naming: instarNamingOf(workspace), today: list.today }
    return {
      ...list,
      doubts: doubts.map((doubt) => presentDoubt(doubt, wording)),
      workspaceName: workspace.name,
      temperatureUnit: workspace.temperatureUnit,
      isNew: list.isNew,
      permissions: listPermissions(scope.role),
      zones: zones.map(({ id, name, setPoints }) => ({
        id,
        name,
        dayC: getSetPointOn(setPoints, list.today)?.dayC ?? null,
      })),
    }
  })
}
