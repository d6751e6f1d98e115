import { listTrays } from '@/lib/features/tray/data'
import { trayApi } from '@/lib/features/tray/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(trayApi.list, async ({ tx, scope }) => {
  const trays = await listTrays(tx, scope.workspaceId)
  return onePage(
    trays.map(({ id, label, clutchId, on, count }) => ({ id, label, clutch: clutchId, on, count })),
  )
})
