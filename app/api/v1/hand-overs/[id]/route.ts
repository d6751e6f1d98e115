import { presentHandOver, requireHandOver } from '@/lib/features/hand-over/data'
import { handOverApi } from '@/lib/features/hand-over/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(handOverApi.load, async ({ tx, workspace, params }) =>
  presentHandOver(await requireHandOver(tx, workspace.workspaceId, params.id)),
)
