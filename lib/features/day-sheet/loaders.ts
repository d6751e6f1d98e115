import { instarNamingOf } from '@/lib/domain/instar/naming'
import { listPermissions, type Permission } from '@/lib/domain/role/permissions'
import { type DayList, loadDayList } from '@/lib/features/day-sheet/data'
import { presentDoubt, type ShownDoubt } from '@/lib/features/growth-fit/schema'
import { getSetPointOn } from '@/lib/features/zone/data'
import { loadPage } from '@/lib/platform/page'

export type DayZone = { id: string; name: string; dayC: number | null }
export type DaySheetPage = Omit<DayList, 'doubts' | 'zones'> & {
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
    const { zones, ...list } = await loadDayList(tx, workspace)
    const wording = { naming: instarNamingOf(workspace), today: list.today }
    return {
      ...list,
      doubts: list.doubts.map((doubt) => presentDoubt(doubt, wording)),
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
