import { presentShowBox, requireShowBox } from '@/lib/features/show-box/data'
import { showBoxApi } from '@/lib/features/show-box/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(showBoxApi.load, async ({ tx, workspace, params }) =>
  presentShowBox(await requireShowBox(tx, workspace.workspaceId, params.id), workspace),
)
