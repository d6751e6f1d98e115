import { presentSale, requireSale } from '@/lib/features/sale/data'
import { reverseSale } from '@/lib/features/sale/mutations'
import { saleApi } from '@/lib/features/sale/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(saleApi.reverse, async ({ tx, scope, workspace, params, body }) => {
  const { value, warnings } = await reverseSale(tx, { scope, workspace }, { ...body, sale: params.id })
  return { ...presentSale(await requireSale(tx, workspace.workspaceId, value.id)), warnings }
})
