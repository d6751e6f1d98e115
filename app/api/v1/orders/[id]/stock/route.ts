import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { orderApi } from '@/lib/features/order/schema'
import { updateOrderStock } from '@/lib/features/order-stock/mutations'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.changeStock, async ({ tx, workspace, params, body }) => {
  const { warnings } = await updateOrderStock(tx, workspace, { ...body, order: params.id })
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
