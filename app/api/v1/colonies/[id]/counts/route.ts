import { loadColonyAnswer } from '@/lib/features/colony/loaders'
import { recordColonyCount } from '@/lib/features/colony/mutations'
import { colonyApi } from '@/lib/features/colony/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(colonyApi.count, async ({ tx, params, body, ...actor }) => {
  const { value, warnings } = await recordColonyCount(tx, actor, { ...body, colony: params.id })
  return { colony: await loadColonyAnswer(tx, actor.scope.workspaceId, value.id), warnings }
})
