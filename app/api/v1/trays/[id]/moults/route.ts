import { recordMoults } from '@/lib/features/moult/mutations'
import { listTrayMoults, sayOnce } from '@/lib/features/tray/data'
import { trayApi } from '@/lib/features/tray/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(trayApi.moult, async ({ tx, workspace, params, body }) => {
  const sent = await listTrayMoults(tx, workspace.workspaceId, { ...body, tray: params.id })
  const { value, warnings } = await recordMoults(tx, workspace, sent)
  return { recorded: value.length, warnings: sayOnce(warnings) }
})
