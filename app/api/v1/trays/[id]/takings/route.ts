import { updateTakenFromTray } from '@/lib/features/tray/mutations'
import { trayApi } from '@/lib/features/tray/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(trayApi.take, ({ tx, scope, params, body }) =>
  updateTakenFromTray(tx, scope.workspaceId, { ...body, tray: params.id }),
)
