import { recordLoss } from '@/lib/features/clutch/mutations'
import { clutchApi } from '@/lib/features/clutch/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(clutchApi.lose, async ({ tx, scope, workspace, params, body }) => {
  const { value, warnings } = await recordLoss(tx, { scope, workspace }, { ...body, clutch: params.id })
  return { ...value, warnings }
})
