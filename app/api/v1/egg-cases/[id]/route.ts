import { loadForecastGround, requireEggCase } from '@/lib/features/egg-case/data'
import { presentEggCase } from '@/lib/features/egg-case/loaders'
import { eggCaseApi } from '@/lib/features/egg-case/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(eggCaseApi.load, async ({ tx, workspace, params, query }) => {
  const row = await requireEggCase(tx, workspace.workspaceId, params.id)
  return presentEggCase(row, await loadForecastGround(tx, workspace, { asOf: query.asOf }))
})
