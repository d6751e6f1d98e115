'use server'

import {
  archiveEggCase,
  createEggCase,
  recordHatch,
  updateColdRest,
  updateEggCaseOpen,
  updateEggCaseZone,
} from '@/lib/features/egg-case/mutations'
import {
  eggCaseEndSchema,
  eggCaseMoveSchema,
  eggCaseReopenSchema,
  eggCaseRestSchema,
  newEggCaseFormSchema,
  newHatchFormSchema,
  readNewEggCase,
  readNewHatch,
} from '@/lib/features/egg-case/schema'
import { workspaceAction } from '@/lib/platform/action'

const permission = 'egg-case:write'

export const createEggCaseAction = workspaceAction(
  { permission, schema: newEggCaseFormSchema },
  async ({ tx, input, ...recording }) => ({
    value: await createEggCase(tx, recording, readNewEggCase(input)),
    warnings: [],
  }),
)

export const recordHatchAction = workspaceAction(
  { permission, schema: newHatchFormSchema },
  async ({ tx, input, ...recording }) => recordHatch(tx, recording, readNewHatch(input)),
)

export const moveEggCaseAction = workspaceAction(
  { permission, schema: eggCaseMoveSchema },
  async ({ tx, input, ...recording }) => ({
    value: await updateEggCaseZone(tx, recording, input),
    warnings: [],
  }),
)

export const updateColdRestAction = workspaceAction(
  { permission, schema: eggCaseRestSchema },
  async ({ tx, input, ...recording }) => ({
    value: await updateColdRest(tx, recording, input),
    warnings: [],
  }),
)

export const endEggCaseAction = workspaceAction(
  { permission, schema: eggCaseEndSchema },
  async ({ tx, input, ...recording }) => ({
    value: await archiveEggCase(tx, recording, input),
    warnings: [],
  }),
)

export const reopenEggCaseAction = workspaceAction(
  { permission, schema: eggCaseReopenSchema },
  async ({ tx, input, ...recording }) => ({
    value: await updateEggCaseOpen(tx, recording, input),
    warnings: [],
  }),
)
