'use server'

import {
  archiveClutchObservation,
  recordClutchObservation,
} from '@/lib/features/clutch-observation/mutations'
import { archiveObservationSchema, newObservationFormSchema } from '@/lib/features/clutch-observation/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordClutchObservationAction = workspaceAction(
  { permission: 'clutch:write', schema: newObservationFormSchema },
  async ({ tx, input, ...actor }) => recordClutchObservation(tx, actor, input),
)

export const archiveClutchObservationAction = workspaceAction(
  { permission: 'clutch:write', schema: archiveObservationSchema },
  async ({ tx, input, ...actor }) => ({
    value: await archiveClutchObservation(tx, actor, input),
    warnings: [],
  }),
)
