import { incidentAnswerOf, listIncidents } from '@/lib/features/incident/data'
import { incidentApi } from '@/lib/features/incident/schema'
import { pageOf } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(incidentApi.list, async ({ tx, workspace, query }) => {
  const { limit, cursor, zone, open } = query
  const filter = { zoneId: zone, isOpen: open, after: cursor, limit: limit + 1 }
  return pageOf(await listIncidents(tx, workspace.workspaceId, filter), limit, incidentAnswerOf)
})
