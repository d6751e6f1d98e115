import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { orderApi } from '@/lib/features/order/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(orderApi.load, async ({ tx, workspace, params }) =>
  presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace),
)
