import { createSaleReturn } from '@/lib/features/sale-return/mutations'
import { saleReturnApi } from '@/lib/features/sale-return/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(saleReturnApi.create, async ({ tx, scope, workspace, params, body }) => {
  const { value, warnings } = await createSaleReturn(tx, { scope, workspace }, { ...body, sale: params.id })
  const { refundMinor, ...made } = value
  return { ...made, refund: { amount: refundMinor, currency: workspace.currency }, warnings }
})
