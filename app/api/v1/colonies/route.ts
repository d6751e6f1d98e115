import { listColonyAnswers, loadColonyAnswer } from '@/lib/features/colony/loaders'
import { createColony } from '@/lib/features/colony/mutations'
import { colonyApi } from '@/lib/features/colony/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(colonyApi.list, async ({ tx, scope }) =>
  onePage(await listColonyAnswers(tx, scope.workspaceId)),
)

export const POST = apiRoute(colonyApi.create, async ({ tx, body, ...actor }) => {
  const { value, warnings } = await createColony(tx, actor, body)
  return { colony: await loadColonyAnswer(tx, actor.scope.workspaceId, value.id), warnings }
})
