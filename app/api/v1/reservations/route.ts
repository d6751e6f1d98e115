import { listReservations, type ReservationRow } from '@/lib/features/reservation/data'
import { createReservation } from '@/lib/features/reservation/mutations'
import { reservationApi } from '@/lib/features/reservation/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(reservationApi.list, async ({ tx, workspace }) =>
  onePage((await listReservations(tx, workspace.workspaceId, { today: workspace.today })).map(present)),
)

export const POST = apiRoute(reservationApi.create, async ({ tx, scope, workspace, body }) => {
  const { ids } = await createReservation(tx, { scope, workspace }, body)
  const { workspaceId, today } = workspace
  const rows = await listReservations(tx, workspaceId, { today, individualIds: body.individuals })
  return onePage(rows.filter(({ id }) => ids.includes(id)).map(present))
})

/** By id alone: the answer of a repeated call is kept, and must keep nothing of a person. */
function present({ id, buyerId, individualId, label, madeOn, until, version }: ReservationRow) {
  return { id, buyer: buyerId, individual: individualId, label, madeOn, until, version }
}
