import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { orderApi } from '@/lib/features/order/schema'
import { reverseOrderPayment } from '@/lib/features/order-payment/mutations'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.payBack, async ({ tx, scope, workspace, params, body }) => {
  const { warnings } = await reverseOrderPayment(
    tx,
    { scope, workspace },
    {
      ...body,
      ...{ order: params.id, payment: params.payment },
    },
  )
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
