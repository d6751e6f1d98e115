import { listEggCases, loadForecastGround, requireEggCase } from '@/lib/features/egg-case/data'
import { presentEggCase } from '@/lib/features/egg-case/loaders'
import { createEggCase } from '@/lib/features/egg-case/mutations'
import { eggCaseApi } from '@/lib/features/egg-case/schema'
import { requireSpecies } from '@/lib/features/species/data'
import { pageOf } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(eggCaseApi.list, async ({ tx, workspace, query }) => {
  const { workspaceId } = workspace
  const { species, state, asOf, limit, cursor } = query
  const rows = await listEggCases(tx, workspaceId, {
    ...(species ? { speciesId: (await requireSpecies(tx, workspaceId, species)).id } : {}),
    ...(state ? { isEnded: state === 'ended' } : {}),
    ...(cursor ? { after: cursor } : {}),
    ...(asOf ? { asOf } : {}),
    limit: limit + 1,
  })
  const ground = await loadForecastGround(tx, workspace, { asOf })
  return pageOf(rows, limit, (row) => presentEggCase(row, ground))
})

export const POST = apiRoute(eggCaseApi.create, async ({ tx, scope, workspace, body }) => {
  const { id } = await createEggCase(tx, { scope, workspace }, body)
  const row = await requireEggCase(tx, workspace.workspaceId, id)
  return presentEggCase(row, await loadForecastGround(tx, workspace))
})
