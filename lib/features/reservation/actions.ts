'use server'

import { createReservationByLabels, endReservation } from '@/lib/features/reservation/mutations'
import { endReservationSchema, reservationFormSchema } from '@/lib/features/reservation/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createReservationAction = workspaceAction(
  { permission: 'reservation:write', schema: reservationFormSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await createReservationByLabels(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const endReservationAction = workspaceAction(
  { permission: 'reservation:write', schema: endReservationSchema },
  async ({ tx, workspace, input }) => ({ value: await endReservation(tx, workspace, input), warnings: [] }),
)
