import { returnIndividual } from '@/lib/features/departure/mutations'
import { departureApi } from '@/lib/features/departure/schema'
import { loadIndividualAnswer } from '@/lib/features/individual/loaders'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(departureApi.bringBack, async ({ tx, scope, workspace, params, body }) => {
  const back = { ...body, individual: params.id }
  const { warnings } = await returnIndividual(tx, { scope, workspace }, back)
  return { individual: await loadIndividualAnswer(tx, workspace, params.id), warnings }
})
