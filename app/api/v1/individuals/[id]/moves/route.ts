import { recordMove } from '@/lib/features/housing/mutations'
import { housingApi } from '@/lib/features/housing/schema'
import { loadIndividualAnswer } from '@/lib/features/individual/loaders'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(housingApi.move, async ({ tx, workspace, params, body }) => {
  const { warnings } = await recordMove(tx, workspace, { ...body, individual: params.id })
  return { individual: await loadIndividualAnswer(tx, workspace, params.id), warnings }
})
