import { incidentAnswerOf, requireIncident } from '@/lib/features/incident/data'
import { recordTaking } from '@/lib/features/incident/mutations'
import { incidentApi } from '@/lib/features/incident/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(incidentApi.take, async ({ tx, scope, workspace, params, body }) => {
  await recordTaking(tx, { scope, workspace }, { id: params.id, ...body })
  return incidentAnswerOf(await requireIncident(tx, workspace.workspaceId, params.id))
})
