import { presentSale, requireSale } from '@/lib/features/sale/data'
import { reverseSale } from '@/lib/features/sale-return/mutations'
import { saleReturnApi } from '@/lib/features/sale-return/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(saleReturnApi.reverse, async ({ tx, scope, workspace, params, body }) => {
  const { value, warnings } = await reverseSale(tx, { scope, workspace }, { ...body, sale: params.id })
  return { ...presentSale(await requireSale(tx, workspace.workspaceId, value.id)), warnings }
})
