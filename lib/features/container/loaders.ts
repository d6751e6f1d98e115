import { isAllowed } from '@/lib/domain/role/permissions'
import { type ContainerKindRow, listContainerKinds } from '@/lib/features/container/data'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type ContainersPage = {
  workspaceName: string
  today: string
  mayWrite: boolean
  kinds: ContainerKindRow[]
}

export async function loadContainersPage(slug: string): Promise<ContainersPage> {
  const scope = await requireScope(slug, 'container:read')
  return inWorkspace(scope, async (tx, { name, today }) => ({
    workspaceName: name,
    today,
    mayWrite: isAllowed(scope.role, 'container:write'),
    kinds: await listContainerKinds(tx, scope.workspaceId),
  }))
}
