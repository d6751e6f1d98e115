import { requireSpecies } from '@/lib/features/species/data'
import { presentSpecies, speciesApi } from '@/lib/features/species/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(speciesApi.get, async ({ tx, scope, params }) =>
  presentSpecies(await requireSpecies(tx, scope.workspaceId, params.id)),
)
