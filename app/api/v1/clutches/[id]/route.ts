import { loadClutchGround, requireClutch } from '@/lib/features/clutch/data'
import { presentClutch } from '@/lib/features/clutch/loaders'
import { clutchApi } from '@/lib/features/clutch/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(clutchApi.load, async ({ tx, workspace, params, query }) => {
  const ground = await loadClutchGround(tx, workspace, { asOf: query.asOf })
  const row = await requireClutch(tx, workspace.workspaceId, { id: params.id, asOf: query.asOf })
  return presentClutch(row, ground)
})
