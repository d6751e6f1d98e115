import { listPermissions, type Permission } from '@/lib/domain/role/permissions'
import { type DayList, loadDayList } from '@/lib/features/day-sheet/data'
import { getSetPointOn, listZones } from '@/lib/features/zone/data'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type DayZone = { id: string; name: string; dayC: number | null }
export type DaySheetPage = DayList & {
  workspaceName: string
  temperatureUnit: 'celsius' | 'fahrenheit'
  permissions: Permission[]
  zones: DayZone[]
}

/** The first screen: what will be lost first comes first. */
export async function loadDaySheet(slug: string): Promise<DaySheetPage> {
  const scope = await requireScope(slug, 'day-sheet:read')
  return inWorkspace(scope, async (tx, workspace) => {
    const zones = await listZones(tx, workspace.workspaceId)
    const list = await loadDayList(tx, workspace)
    return {
      ...list,
      workspaceName: workspace.name,
      temperatureUnit: workspace.temperatureUnit,
      permissions: listPermissions(scope.role),
      zones: zones.map(({ id, name, setPoints }) => ({
        id,
        name,
        dayC: getSetPointOn(setPoints, list.today)?.dayC ?? null,
      })),
    }
  })
}
