import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { toPlainDate } from '@/lib/platform/plain-date'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type SetPoint = { from: PlainDate; dayC: number; nightC: number | null }
export type ZoneRow = {
  id: string
  name: string
  walkingOrder: number
  version: number
  setPoints: SetPoint[]
}

/** Every zone, archived ones too where asked (old records stand in them), each with its set points oldest first. */
export async function listZones(
  tx: Tx,
  workspaceId: WorkspaceId,
  includeArchived = false,
): Promise<ZoneRow[]> {
  const rows = await tx.zone.findMany({
    where: { workspaceId, ...(includeArchived ? {} : { archivedAt: null }) },
    select: {
      id: true,
      name: true,
      walkingOrder: true,
      version: true,
      setPoints: { select: { fromOn: true, dayC: true, nightC: true }, orderBy: { fromOn: 'asc' } },
    },
    orderBy: [{ walkingOrder: 'asc' }, { name: 'asc' }],
  })
  return rows.map(({ setPoints, ...zone }) => ({
    ...zone,
    setPoints: setPoints.map(({ fromOn, dayC, nightC }) => ({ from: toPlainDate(fromOn), dayC, nightC })),
  }))
}

/** The zones by id, archived ones included, for turning stays into temperature histories. */
export async function loadZonesById(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, ZoneRow>> {
  return new Map((await listZones(tx, workspaceId, true)).map((zone) => [zone.id, zone]))
}

/**
 * One zone with its set points.
 * @throws AppError not-found
 */
export async function requireZone(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ZoneRow> {
  const zone = (await listZones(tx, workspaceId, true)).find((row) => row.id === id)
  if (!zone) throw refuseUnknown('zone')
  return zone
}

/** What a zone is set to on a day: the newest set point that holds by then, or the first one before it. */
export function getSetPointOn(setPoints: readonly SetPoint[], on: PlainDate): SetPoint | undefined {
  return setPoints.findLast((setPoint) => setPoint.from <= on) ?? setPoints[0]
}

export type ZoneOccupants = { animals: number; clutches: number; eggCases: number }

/** How much stands in each zone now, by zone id. */
export async function countOccupantsByZone(
  tx: Tx,
  workspaceId: WorkspaceId,
): Promise<Map<string, ZoneOccupants>> {
  const by = { by: ['zoneId' as const], _count: { _all: true as const } }
  const animals = await tx.housing.groupBy({ ...by, where: { workspaceId, untilOn: null } })
  const clutches = await tx.clutchHousing.groupBy({ ...by, where: { workspaceId, untilOn: null } })
  const eggCases = await tx.eggCaseStay.groupBy({
    ...by,
    where: { workspaceId, untilOn: null, eggCase: { endedOn: null } },
  })
  const occupants = new Map<string, ZoneOccupants>()
  const of = (zoneId: string) => {
    const known = occupants.get(zoneId) ?? { animals: 0, clutches: 0, eggCases: 0 }
    occupants.set(zoneId, known)
    return known
  }
  for (const row of animals) of(row.zoneId).animals = row._count._all
  for (const row of clutches) of(row.zoneId).clutches = row._count._all
  for (const row of eggCases) of(row.zoneId).eggCases = row._count._all
  return occupants
}
