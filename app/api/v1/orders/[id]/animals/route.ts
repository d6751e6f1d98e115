import { presentOrder, requireOrder } from '@/lib/features/order/data'
import { updateChosenAnimals } from '@/lib/features/order/mutations'
import { orderApi } from '@/lib/features/order/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(orderApi.choose, async ({ tx, workspace, params, body }) => {
  const { warnings } = await updateChosenAnimals(tx, workspace, { ...body, order: params.id })
  return { ...presentOrder(await requireOrder(tx, workspace.workspaceId, params.id), workspace), warnings }
})
