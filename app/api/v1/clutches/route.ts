import { listClutches, loadClutchGround } from '@/lib/features/clutch/data'
import { presentClutch } from '@/lib/features/clutch/loaders'
import { clutchApi } from '@/lib/features/clutch/schema'
import { requireSpecies } from '@/lib/features/species/data'
import { pageOf } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(clutchApi.list, async ({ tx, workspace, query }) => {
  const { workspaceId } = workspace
  const { species, state, asOf, limit, cursor } = query
  const ground = await loadClutchGround(tx, workspace, { asOf })
  const rows = await listClutches(tx, workspaceId, {
    ...(species ? { speciesId: (await requireSpecies(tx, workspaceId, species)).id } : {}),
    ...(state === 'together' ? { isTogether: true } : {}),
    ...(cursor ? { after: cursor } : {}),
    ...(asOf ? { asOf } : {}),
    limit: limit + 1,
  })
  return pageOf(rows, limit, (row) => presentClutch(row, ground))
})
