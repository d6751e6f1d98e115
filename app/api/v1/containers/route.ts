import { listContainers } from '@/lib/features/container/data'
import { containerApi } from '@/lib/features/container/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(containerApi.list, ({ tx, scope, query }) =>
  listContainers(tx, scope.workspaceId, query),
)
