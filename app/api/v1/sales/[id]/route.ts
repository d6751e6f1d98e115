import { presentSale, requireSale } from '@/lib/features/sale/data'
import { saleApi } from '@/lib/features/sale/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(saleApi.load, async ({ tx, workspace, params }) =>
  presentSale(await requireSale(tx, workspace.workspaceId, params.id)),
)
