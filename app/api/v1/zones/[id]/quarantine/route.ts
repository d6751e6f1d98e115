import { loadWatch } from '@/lib/features/watch/data'
import { requireZone } from '@/lib/features/zone/data'
import { presentZone } from '@/lib/features/zone/loaders'
import { recordQuarantine } from '@/lib/features/zone/mutations'
import { zoneApi } from '@/lib/features/zone/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const PATCH = apiRoute(zoneApi.quarantine, async ({ tx, workspace, params, body, ifMatch }) => {
  const { workspaceId, today } = workspace
  const { id, version } = await requireZone(tx, workspaceId, params.id)
  await recordQuarantine(tx, workspace, { id, version: ifMatch ?? version, ...body })
  const zone = await requireZone(tx, workspaceId, id)
  return presentZone(zone, { watch: await loadWatch(tx, workspaceId, id), today })
})
