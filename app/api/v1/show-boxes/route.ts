import { listShowBoxes, presentShowBox, requireShowBox } from '@/lib/features/show-box/data'
import { createShowBox } from '@/lib/features/show-box/mutations'
import { showBoxApi } from '@/lib/features/show-box/schema'
import { requireSpecies } from '@/lib/features/species/data'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(showBoxApi.list, async ({ tx, workspace }) =>
  onePage((await listShowBoxes(tx, workspace.workspaceId)).map((box) => presentShowBox(box, workspace))),
)

export const POST = apiRoute(showBoxApi.create, async ({ tx, scope, workspace, body }) => {
  const { workspaceId } = workspace
  const species = body.species ? (await requireSpecies(tx, workspaceId, body.species)).id : ''
  const { value, warnings } = await createShowBox(tx, { scope, workspace }, { ...body, species })
  return { ...presentShowBox(await requireShowBox(tx, workspaceId, value.id), workspace), warnings }
})
