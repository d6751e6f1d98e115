import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { orderApi } from '@/lib/features/order/schema'
import { createOrderPayment } from '@/lib/features/order-payment/mutations'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.pay, async ({ tx, scope, workspace, params, body }) => {
  const { warnings } = await createOrderPayment(tx, { scope, workspace }, { ...body, order: params.id })
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
