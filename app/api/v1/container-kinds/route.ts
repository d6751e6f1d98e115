import { listContainerKinds, requireContainerKind } from '@/lib/features/container/data'
import { createContainerKind } from '@/lib/features/container/mutations'
import { containerApi } from '@/lib/features/container/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(containerApi.listKinds, async ({ tx, scope }) =>
  onePage(await listContainerKinds(tx, scope.workspaceId)),
)

export const POST = apiRoute(containerApi.createKind, async ({ tx, workspace, body }) => {
  const { id } = await createContainerKind(tx, workspace, body)
  return requireContainerKind(tx, workspace.workspaceId, id)
})
