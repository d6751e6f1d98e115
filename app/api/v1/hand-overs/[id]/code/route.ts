import { loadHandOverCode } from '@/lib/features/hand-over/data'
import { handOverApi } from '@/lib/features/hand-over/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(handOverApi.code, async ({ tx, workspace, params }) => ({
  code: await loadHandOverCode(tx, workspace.workspaceId, params.id),
}))
