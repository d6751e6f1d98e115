import { isAllowed } from '@/lib/domain/role/permissions'
import { loadShelf } from '@/lib/features/culture/data'
import { presentPrey } from '@/lib/features/prey/loaders'
import { preyApi } from '@/lib/features/prey/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(preyApi.list, async ({ tx, scope, workspace }) =>
  onePage(presentPrey(await loadShelf(tx, workspace), isAllowed(scope.role, 'cost:read'))),
)
