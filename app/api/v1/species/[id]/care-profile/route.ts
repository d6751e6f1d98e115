import { requireSpecies } from '@/lib/features/species/data'
import { updateCareProfile } from '@/lib/features/species/mutations'
import { presentCareProfile, speciesApi } from '@/lib/features/species/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(speciesApi.getCareProfile, async ({ tx, scope, params }) =>
  presentCareProfile(await requireSpecies(tx, scope.workspaceId, params.id)),
)

export const PATCH = apiRoute(speciesApi.updateCareProfile, async ({ tx, scope, params, body, ifMatch }) => {
  const { workspaceId } = scope
  const species = await requireSpecies(tx, workspaceId, params.id)
  await updateCareProfile(tx, workspaceId, { species, edits: body.values, on: ifMatch })
  return presentCareProfile(await requireSpecies(tx, workspaceId, species.id))
})
