'use server'

import {
  archiveReadingBatch,
  recordPastedReadings,
  recordTypedReading,
} from '@/lib/features/reading/mutations'
import {
  pastedReadingsSchema,
  takeBackReadingsSchema,
  typedReadingSchema,
} from '@/lib/features/reading/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordTypedReadingAction = workspaceAction(
  { permission: 'zone:write', schema: typedReadingSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await recordTypedReading(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const recordPastedReadingsAction = workspaceAction(
  { permission: 'zone:write', schema: pastedReadingsSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await recordPastedReadings(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const archiveReadingBatchAction = workspaceAction(
  { permission: 'zone:write', schema: takeBackReadingsSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await archiveReadingBatch(tx, { scope, workspace }, input.batchId),
    warnings: [],
  }),
)
