import { requireClutch } from '@/lib/features/clutch/data'
import { presentClutch } from '@/lib/features/clutch/loaders'
import { recordClutchObservation } from '@/lib/features/clutch-observation/mutations'
import { clutchObservationApi } from '@/lib/features/clutch-observation/schema'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(clutchObservationApi.create, async ({ tx, scope, workspace, params, body }) => {
  const seen = { ...body, clutch: params.id }
  const { value, warnings } = await recordClutchObservation(tx, { scope, workspace }, seen)
  const clutch = await requireClutch(tx, workspace.workspaceId, { id: params.id })
  const ground = await loadForecastGround(tx, workspace)
  return { observation: value, clutch: presentClutch(clutch, ground), warnings }
})
