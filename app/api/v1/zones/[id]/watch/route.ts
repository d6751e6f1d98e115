import { loadWatch } from '@/lib/features/watch/data'
import { recordWatch } from '@/lib/features/watch/mutations'
import { requireZone } from '@/lib/features/zone/data'
import { presentZone } from '@/lib/features/zone/loaders'
import { zoneApi } from '@/lib/features/zone/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const PATCH = apiRoute(zoneApi.watch, async ({ tx, workspace, params, body, ifMatch }) => {
  const { workspaceId, today } = workspace
  const present = await loadWatch(tx, workspaceId, params.id)
  await recordWatch(tx, workspaceId, {
    zoneId: params.id,
    version: ifMatch ?? present?.version ?? 0,
    ...body,
  })
  const zone = await requireZone(tx, workspaceId, params.id)
  return presentZone(zone, { watch: await loadWatch(tx, workspaceId, params.id), today })
})
