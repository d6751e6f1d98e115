import { loadIndividualAnswer } from '@/lib/features/individual/loaders'
import { recordMoults } from '@/lib/features/moult/mutations'
import { moultApi } from '@/lib/features/moult/schema'
import { apiRoute } from '@/lib/platform/api/route'
import { invariant } from '@/lib/platform/errors'

export const POST = apiRoute(moultApi.create, async ({ tx, workspace, params, body }) => {
  const sent = { ...body, individual: params.id, at: '', spanField: 'seenBetween' as const }
  const { value, warnings } = await recordMoults(tx, workspace, [sent])
  const [moult] = value
  invariant(moult, 'one moult was recorded')
  return { moult, individual: await loadIndividualAnswer(tx, workspace, params.id), warnings }
})
