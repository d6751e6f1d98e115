'use server'

import {
  recordCountCorrection,
  recordFoundAgain,
  recordLoss,
  recordRecount,
  recordReversal,
  updateClutchZone,
} from '@/lib/features/clutch/mutations'
import {
  clutchMoveSchema,
  countCorrectionSchema,
  foundAgainSchema,
  newLossFormSchema,
  newRecountFormSchema,
  reversalSchema,
} from '@/lib/features/clutch/schema'
import { workspaceAction } from '@/lib/platform/action'

const permission = 'clutch:write'

export const recordLossAction = workspaceAction(
  { permission, schema: newLossFormSchema },
  async ({ tx, input, ...recording }) => recordLoss(tx, recording, input),
)

export const recordRecountAction = workspaceAction(
  { permission, schema: newRecountFormSchema },
  async ({ tx, input, ...recording }) => recordRecount(tx, recording, input),
)

export const correctCountAction = workspaceAction(
  { permission, schema: countCorrectionSchema },
  async ({ tx, input, ...recording }) => recordCountCorrection(tx, recording, input),
)

export const recordFoundAgainAction = workspaceAction(
  { permission, schema: foundAgainSchema },
  async ({ tx, input, ...recording }) => recordFoundAgain(tx, recording, input),
)

export const reverseEntryAction = workspaceAction(
  { permission, schema: reversalSchema },
  async ({ tx, input, ...recording }) => recordReversal(tx, recording, input),
)

export const moveClutchAction = workspaceAction(
  { permission, schema: clutchMoveSchema },
  async ({ tx, input, ...recording }) => ({
    value: await updateClutchZone(tx, recording, input),
    warnings: [],
  }),
)
