import { requireWish } from '@/lib/features/wish/data'
import { endWish } from '@/lib/features/wish/mutations'
import { wishApi } from '@/lib/features/wish/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(wishApi.end, async ({ tx, workspace, params, body, ifMatch }) => {
  const { id, version } = await requireWish(tx, workspace, params.id)
  await endWish(tx, workspace, { id, as: body.as, version: body.version ?? ifMatch ?? version })
  return { id }
})
