import { presentHandOver, requireHandOver } from '@/lib/features/hand-over/data'
import { endHandOver } from '@/lib/features/hand-over/mutations'
import { handOverApi } from '@/lib/features/hand-over/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(handOverApi.withdraw, async ({ tx, workspace, params, body, ifMatch }) => {
  const { id, version } = await requireHandOver(tx, workspace.workspaceId, params.id)
  await endHandOver(tx, workspace, { id, version: body.version ?? ifMatch ?? version })
  return presentHandOver(await requireHandOver(tx, workspace.workspaceId, id))
})
