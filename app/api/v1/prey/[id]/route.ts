import { isAllowed } from '@/lib/domain/role/permissions'
import { loadShelf } from '@/lib/features/culture/data'
import { requirePreyLine } from '@/lib/features/prey/data'
import { presentPrey } from '@/lib/features/prey/loaders'
import { updateAnyPreyFigure } from '@/lib/features/prey/mutations'
import { preyApi } from '@/lib/features/prey/schema'
import { apiRoute } from '@/lib/platform/api/route'
import { refuseUnknown } from '@/lib/platform/errors'

export const PATCH = apiRoute(preyApi.update, async ({ tx, scope, workspace, params, body, ifMatch }) => {
  const { number } = await requirePreyLine(tx, scope.workspaceId, params.id)
  const change = { line: params.id, version: ifMatch ?? number, ...body }
  await updateAnyPreyFigure(tx, scope.workspaceId, change)
  const shown = presentPrey(await loadShelf(tx, workspace), isAllowed(scope.role, 'cost:read'))
  const line = shown.find(({ id }) => id === params.id)
  if (!line) throw refuseUnknown('prey line')
  return line
})
