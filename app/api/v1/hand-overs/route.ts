import { listHandOvers, presentHandOver, requireHandOver } from '@/lib/features/hand-over/data'
import { createHandOver } from '@/lib/features/hand-over/mutations'
import { handOverApi } from '@/lib/features/hand-over/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(handOverApi.list, async ({ tx, workspace }) =>
  onePage((await listHandOvers(tx, workspace.workspaceId)).map(presentHandOver)),
)

export const POST = apiRoute(handOverApi.create, async ({ tx, scope, workspace, body }) => {
  const { id } = await createHandOver(tx, { scope, workspace }, body)
  return presentHandOver(await requireHandOver(tx, workspace.workspaceId, id))
})
