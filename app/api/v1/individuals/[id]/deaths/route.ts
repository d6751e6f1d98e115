import { recordLeaving } from '@/lib/features/departure/mutations'
import { departureApi } from '@/lib/features/departure/schema'
import { loadIndividualAnswer } from '@/lib/features/individual/loaders'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(departureApi.die, async ({ tx, scope, workspace, params, body }) => {
  const leaving = { ...body, individuals: [params.id], to: 'dead' as const }
  const { warnings } = await recordLeaving(tx, { scope, workspace }, leaving)
  return { individual: await loadIndividualAnswer(tx, workspace, params.id), warnings }
})
