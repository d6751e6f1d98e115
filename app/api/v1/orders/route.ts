import { listOrders, presentOrder, requireOrder } from '@/lib/features/order/data'
import { createOrder } from '@/lib/features/order/mutations'
import { orderApi } from '@/lib/features/order/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(orderApi.list, async ({ tx, workspace, query }) => {
  const { items, nextCursor } = await listOrders(tx, workspace.workspaceId, query)
  return { items: items.map((row) => presentOrder(row, workspace)), nextCursor }
})

export const POST = apiRoute(orderApi.create, async ({ tx, scope, workspace, body }) => {
  const { value, warnings } = await createOrder(tx, { scope, workspace }, body)
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, value.id), workspace), warnings }
})
