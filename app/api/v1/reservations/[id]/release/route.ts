import { requireReservation } from '@/lib/features/reservation/data'
import { endReservation } from '@/lib/features/reservation/mutations'
import { reservationApi } from '@/lib/features/reservation/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(reservationApi.end, async ({ tx, workspace, params, body, ifMatch }) => {
  const { id, version } = await requireReservation(tx, workspace.workspaceId, params.id)
  return endReservation(tx, workspace, { id, version: body.version ?? ifMatch ?? version })
})
