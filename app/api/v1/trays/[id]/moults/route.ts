import { recordTrayMoults } from '@/lib/features/moult/mutations'
import { trayApi } from '@/lib/features/tray/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(trayApi.moult, async ({ tx, workspace, params, body }) => {
  const { value, warnings } = await recordTrayMoults(tx, workspace, { ...body, tray: params.id })
  return { ...value, warnings }
})
