'use server'

import {
  archiveHarvest,
  createCultures,
  recordDiscard,
  recordDiscards,
  recordHarvest,
  recordMark,
  updateCulture,
} from '@/lib/features/culture/mutations'
import {
  archiveHarvestSchema,
  cultureFormSchema,
  discardFormSchema,
  discardManySchema,
  harvestFormSchema,
  markFormSchema,
  readNewCulture,
  readNewHarvest,
  updateCultureSchema,
} from '@/lib/features/culture/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createCulturesAction = workspaceAction(
  { permission: 'live-food:write', schema: cultureFormSchema },
  async ({ tx, input, ...actor }) => createCultures(tx, actor, readNewCulture(input)),
)

export const recordHarvestAction = workspaceAction(
  { permission: 'live-food:write', schema: harvestFormSchema },
  async ({ tx, input, ...actor }) =>
    recordHarvest(tx, actor, { ...readNewHarvest(input), culture: input.culture }),
)

export const archiveHarvestAction = workspaceAction(
  { permission: 'live-food:write', schema: archiveHarvestSchema },
  async ({ tx, workspace, input }) => ({ value: await archiveHarvest(tx, workspace, input), warnings: [] }),
)

export const recordDiscardAction = workspaceAction(
  { permission: 'live-food:write', schema: discardFormSchema },
  async ({ tx, workspace, input }) => recordDiscard(tx, workspace, input),
)

export const recordDiscardsAction = workspaceAction(
  { permission: 'live-food:write', schema: discardManySchema },
  async ({ tx, workspace, input }) => recordDiscards(tx, workspace, input),
)

export const recordMarkAction = workspaceAction(
  { permission: 'live-food:write', schema: markFormSchema },
  async ({ tx, workspace, input }) => recordMark(tx, workspace, input),
)

export const updateCultureAction = workspaceAction(
  { permission: 'live-food:write', schema: updateCultureSchema },
  async ({ tx, input, ...actor }) => ({ value: await updateCulture(tx, actor, input), warnings: [] }),
)
