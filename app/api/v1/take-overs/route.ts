import { recordTakeOver } from '@/lib/features/hand-over/mutations'
import { handOverApi } from '@/lib/features/hand-over/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(handOverApi.accept, async ({ tx, scope, workspace, body }) => {
  const { value, warnings } = await recordTakeOver(tx, { scope, workspace }, body)
  return { from: value.from, individuals: value.ids, warnings }
})
