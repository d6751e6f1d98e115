import { requireShowBox } from '@/lib/features/show-box/data'
import { recordBoxHome } from '@/lib/features/show-box/mutations'
import { showBoxApi } from '@/lib/features/show-box/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(showBoxApi.settle, async ({ tx, workspace, params, body, ifMatch }) => {
  const { id, version } = await requireShowBox(tx, workspace.workspaceId, params.id)
  const { labels, counts } = body
  const which = { box: id, version: body.version ?? ifMatch ?? version }
  return recordBoxHome(tx, workspace, { ...which, labels: labels.join('\n'), counts })
})
