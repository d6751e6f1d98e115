import { instarNamingOf } from '@/lib/domain/instar/naming'
import { loadHeadCount } from '@/lib/features/clutch/data'
import { requireIndividuals } from '@/lib/features/individual/data'
import { presentIndividual } from '@/lib/features/individual/schema'
import { recordSeparation } from '@/lib/features/separation/mutations'
import { separationApi } from '@/lib/features/separation/schema'
import { requireSpecies } from '@/lib/features/species/data'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(separationApi.create, async ({ tx, scope, workspace, params, body }) => {
  const { workspaceId } = workspace
  const { value, warnings } = await recordSeparation(tx, { scope, workspace }, { ...body, clutch: params.id })
  const headCount = await loadHeadCount(tx, workspaceId, { clutchId: params.id })
  const ids = value.singles.map(({ id }) => id)
  const animals = await requireIndividuals(tx, workspaceId, ids)
  const species = await requireSpecies(tx, workspaceId, value.speciesId)
  const individuals = animals.map((animal) => presentIndividual(animal, species, instarNamingOf(workspace)))
  return { separation: value.separationId, individuals, headCount, warnings }
})
