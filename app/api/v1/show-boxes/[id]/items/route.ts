import { recordBoxItem } from '@/lib/features/box-item/mutations'
import { presentShowBox, requireShowBox } from '@/lib/features/show-box/data'
import { showBoxApi } from '@/lib/features/show-box/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(showBoxApi.pack, async ({ tx, workspace, params, body, ifMatch }) => {
  const { workspaceId } = workspace
  const { id, version } = await requireShowBox(tx, workspaceId, params.id)
  const { part, line } = body
  const which = { box: id, version: body.version ?? ifMatch ?? version }
  const { warnings } = await recordBoxItem(tx, workspace, { ...which, part, line })
  return { ...presentShowBox(await requireShowBox(tx, workspaceId, id), workspace), warnings }
})
