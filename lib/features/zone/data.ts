import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
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
