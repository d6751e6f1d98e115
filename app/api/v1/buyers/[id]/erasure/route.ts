import { requireBuyer } from '@/lib/features/buyer/data'
import { endBuyer } from '@/lib/features/buyer/mutations'
import { buyerApi } from '@/lib/features/buyer/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(buyerApi.erase, async ({ tx, workspace, params, body, ifMatch }) => {
  const { id, version } = await requireBuyer(tx, workspace.workspaceId, params.id)
  return endBuyer(tx, workspace, { id, version: body.version ?? ifMatch ?? version })
})
