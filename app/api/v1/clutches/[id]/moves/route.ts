import { loadClutchGround, requireClutch } from '@/lib/features/clutch/data'
import { presentClutch } from '@/lib/features/clutch/loaders'
import { recordClutchHousing } from '@/lib/features/housing/mutations'
import { housingApi } from '@/lib/features/housing/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(housingApi.moveClutch, async ({ tx, workspace, params, body }) => {
  const { value, warnings } = await recordClutchHousing(tx, workspace, { ...body, clutch: params.id })
  const clutch = await requireClutch(tx, workspace.workspaceId, { id: value.id })
  return { clutch: presentClutch(clutch, await loadClutchGround(tx, workspace)), warnings }
})
