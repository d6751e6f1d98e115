import { listSpecies } from '@/lib/features/species/data'
import { presentSpecies, speciesApi } from '@/lib/features/species/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(speciesApi.list, async ({ tx, scope }) =>
  onePage((await listSpecies(tx, scope.workspaceId)).map(presentSpecies)),
)
