import { loadWatches } from '@/lib/features/watch/data'
import { listZones, requireZone } from '@/lib/features/zone/data'
import { presentZone } from '@/lib/features/zone/loaders'
import { createZone } from '@/lib/features/zone/mutations'
import { zoneApi } from '@/lib/features/zone/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(zoneApi.list, async ({ tx, workspace }) => {
  const zones = await listZones(tx, workspace.workspaceId)
  const watches = await loadWatches(tx, workspace.workspaceId)
  return onePage(
    zones.map((zone) => presentZone(zone, { watch: watches.get(zone.id), today: workspace.today })),
  )
})

export const POST = apiRoute(zoneApi.create, async ({ tx, workspace, body }) => {
  const { id } = await createZone(tx, workspace, body)
  const zone = await requireZone(tx, workspace.workspaceId, id)
  return presentZone(zone, { watch: undefined, today: workspace.today })
})
