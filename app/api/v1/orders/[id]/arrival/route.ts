import { recordArrival } from '@/lib/features/arrival/mutations'
import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { orderApi } from '@/lib/features/order/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.arrive, async ({ tx, workspace, params, body }) => {
  const { warnings } = await recordArrival(tx, workspace, { ...body, order: params.id })
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
