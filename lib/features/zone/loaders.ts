import { isAllowed } from '@/lib/domain/role/permissions'
import {
  countOccupantsByZone,
  getSetPointOn,
  listZones,
  type SetPoint,
  type ZoneOccupants,
  type ZoneRow,
} from '@/lib/features/zone/data'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type ZoneOnPage = ZoneRow & {
  inForce: SetPoint | undefined
  planned: SetPoint[]
  occupants: ZoneOccupants
}
export type ZonesPage = { workspaceName: string; today: string; mayWrite: boolean; zones: ZoneOnPage[] }

export async function loadZonesPage(slug: string): Promise<ZonesPage> {
  const scope = await requireScope(slug, 'zone:read')
  return inWorkspace(scope, async (tx, { name, today }) => {
    const zones = await listZones(tx, scope.workspaceId)
    const occupants = await countOccupantsByZone(tx, scope.workspaceId)
    return {
      workspaceName: name,
      today,
      mayWrite: isAllowed(scope.role, 'zone:write'),
      zones: zones.map((zone) => ({
        ...zone,
        inForce: getSetPointOn(zone.setPoints, today),
        planned: zone.setPoints.filter((setPoint) => setPoint.from > today),
        occupants: occupants.get(zone.id) ?? { animals: 0, clutches: 0, eggCases: 0 },
      })),
    }
  })
}
