import { listWishes, loadWishOutlooks, presentWish, requireWish } from '@/lib/features/wish/data'
import { createWish } from '@/lib/features/wish/mutations'
import { wishApi } from '@/lib/features/wish/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

/** All that wait are matched, whoever is asked about: earlier ones are served first. */
export const GET = apiRoute(wishApi.list, async ({ tx, workspace, query }) => {
  const wishes = await listWishes(tx, workspace.workspaceId, { today: workspace.today })
  const { outlooks } = await loadWishOutlooks(tx, workspace, { wishes })
  const asked = wishes.filter(({ buyerId }) => query.buyer === undefined || buyerId === query.buyer)
  return onePage(asked.map((wish) => presentWish(wish, outlooks)))
})

export const POST = apiRoute(wishApi.create, async ({ tx, workspace, body }) => {
  const { id } = await createWish(tx, workspace, body)
  const wishes = await listWishes(tx, workspace.workspaceId, { today: workspace.today })
  const { outlooks } = await loadWishOutlooks(tx, workspace, { wishes })
  return presentWish(await requireWish(tx, workspace, id), outlooks)
})
