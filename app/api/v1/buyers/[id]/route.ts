import { presentBuyer, requireBuyer } from '@/lib/features/buyer/data'
import { updateBuyer } from '@/lib/features/buyer/mutations'
import { buyerApi } from '@/lib/features/buyer/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(buyerApi.load, async ({ tx, workspace, params }) =>
  presentBuyer(await requireBuyer(tx, workspace.workspaceId, params.id)),
)

export const PATCH = apiRoute(buyerApi.update, async ({ tx, workspace, params, body, ifMatch }) => {
  const { id, version } = await requireBuyer(tx, workspace.workspaceId, params.id)
  await updateBuyer(tx, workspace, { ...body, id, version: ifMatch ?? version })
  return presentBuyer(await requireBuyer(tx, workspace.workspaceId, id))
})
