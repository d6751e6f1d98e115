import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { endOrder } from '@/lib/features/order/mutations'
import { orderApi } from '@/lib/features/order/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.cancel, async ({ tx, workspace, params, body }) => {
  const { warnings } = await endOrder(tx, workspace, { ...body, order: params.id })
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
