import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { orderApi } from '@/lib/features/order/schema'
import { recordOrderSale } from '@/lib/features/sale/mutations'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.leave, async ({ tx, scope, workspace, params, body }) => {
  const { warnings } = await recordOrderSale(tx, { scope, workspace }, { ...body, order: params.id })
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
