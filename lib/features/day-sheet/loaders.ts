import { listPermissions, type Permission } from '@/lib/domain/role/permissions'
import { type DayList, loadDayList } from '@/lib/features/day-sheet/data'
import { getSetPointOn, listZones } from '@/lib/features/zone/data'
import { loadPage } from '@/lib/platform/page'

export type DayZone = { id: string; name: string; dayC: number | null }
export type DaySheetPage = DayList & {
  workspaceName: string
  temperatureUnit: 'celsius' | 'fahrenheit'
  permissions: Permission[]
  zones: DayZone[]
  /** Nothing was ever recorded here, so the sheet says where to begin. */
  isNew: boolean
}

/** The first screen: what will be lost first comes first. */
export async function loadDaySheet(slug: string): Promise<DaySheetPage> {
  return loadPage({ slug, permission: 'day-sheet:read' }, async ({ tx, scope, workspace }) => {
    const zones = await listZones(tx, workspace.workspaceId)
    const list = await loadDayList(tx, workspace)
    return {
      ...list,
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
