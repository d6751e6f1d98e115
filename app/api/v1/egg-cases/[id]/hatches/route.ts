import { requireClutch } from '@/lib/features/clutch/data'
import { presentClutch } from '@/lib/features/clutch/loaders'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import { recordHatch } from '@/lib/features/egg-case/mutations'
import { eggCaseApi } from '@/lib/features/egg-case/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(eggCaseApi.hatch, async ({ tx, scope, workspace, params, body }) => {
  const recorded = await recordHatch(tx, { scope, workspace }, { ...body, eggCase: params.id })
  const { clutchId, hatchId, on, count } = recorded.value
  const clutch = await requireClutch(tx, workspace.workspaceId, { id: clutchId })
  const ground = await loadForecastGround(tx, workspace)
  return {
    clutch: presentClutch(clutch, ground),
    hatch: { id: hatchId, on, count },
    warnings: recorded.warnings,
  }
})
