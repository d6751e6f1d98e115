import { requireClutch } from '@/lib/features/clutch/data'
import { recordSeparation } from '@/lib/features/separation/mutations'
import { separationApi } from '@/lib/features/separation/schema'
import { loadProfiles } from '@/lib/features/species/data'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(separationApi.create, async ({ tx, scope, workspace, params, body }) => {
  const { workspaceId } = workspace
  const { value, warnings } = await recordSeparation(tx, { scope, workspace }, { ...body, clutch: params.id })
  const { headCount, speciesId } = await requireClutch(tx, workspaceId, { id: params.id })
  const species = (await loadProfiles(tx, workspaceId)).get(speciesId)?.slug ?? speciesId
  const { separationId, moults, singles } = value
  const individuals = singles.map(({ id, label }) => ({ id, label, species, clutch: params.id, moults }))
  return { separation: separationId, individuals, headCount, warnings }
})
