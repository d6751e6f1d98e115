import { listBuyers, presentBuyer } from '@/lib/features/buyer/data'
import { createBuyer } from '@/lib/features/buyer/mutations'
import { buyerApi } from '@/lib/features/buyer/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(buyerApi.list, async ({ tx, workspace, query }) => {
  const { items, nextCursor } = await listBuyers(tx, workspace.workspaceId, query)
  return { items: items.map(presentBuyer), nextCursor }
})

export const POST = apiRoute(buyerApi.create, ({ tx, workspace, body }) => createBuyer(tx, workspace, body))
