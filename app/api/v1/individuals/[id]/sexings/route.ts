import { loadIndividualAnswer } from '@/lib/features/individual/loaders'
import { recordSexing } from '@/lib/features/individual/mutations'
import { individualApi } from '@/lib/features/individual/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(individualApi.sex, async ({ tx, workspace, params, body, ifMatch }) => {
  const sexing = { ...body, individual: params.id, version: ifMatch }
  const { warnings } = await recordSexing(tx, workspace, sexing)
  return { individual: await loadIndividualAnswer(tx, workspace, params.id), warnings }
})
