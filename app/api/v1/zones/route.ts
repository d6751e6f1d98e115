import { getSetPointOn, listZones, requireZone, type ZoneRow } from '@/lib/features/zone/data'
import { createZone } from '@/lib/features/zone/mutations'
import { zoneApi } from '@/lib/features/zone/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(zoneApi.list, async ({ tx, workspace }) =>
  onePage((await listZones(tx, workspace.workspaceId)).map((zone) => present(zone, workspace.today))),
)

export const POST = apiRoute(zoneApi.create, async ({ tx, workspace, body }) => {
  const { id } = await createZone(tx, workspace, body)
  return present(await requireZone(tx, workspace.workspaceId, id), workspace.today)
})

function present(zone: ZoneRow, today: string) {
  const inForce = getSetPointOn(zone.setPoints, today)
  const { id, name, setPoints, walkingOrder, version, quarantineUntil, lastReading } = zone
  const known = { id, name, setPoints, walkingOrder, version, quarantineUntil, lastReading }
  return { ...known, setTemperatureC: inForce?.dayC ?? null, nightTemperatureC: inForce?.nightC ?? null }
}
