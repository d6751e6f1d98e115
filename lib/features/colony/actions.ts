'use server'

import {
  archiveColony,
  createColony,
  recordColonyCount,
  recordColonyEntry,
  recordColonyMove,
} from '@/lib/features/colony/mutations'
import {
  archiveColonySchema,
  moveColonySchema,
  newColonyCountFormSchema,
  newColonyEntryFormSchema,
  newColonySchema,
  readColonyCount,
} from '@/lib/features/colony/schema'
import { workspaceAction } from '@/lib/platform/action'

const permission = 'clutch:write'

export const createColonyAction = workspaceAction(
  { permission, schema: newColonySchema },
  async ({ tx, input, ...actor }) => createColony(tx, actor, input),
)

export const recordColonyEntryAction = workspaceAction(
  { permission, schema: newColonyEntryFormSchema },
  async ({ tx, input, ...actor }) => recordColonyEntry(tx, actor, input),
)

export const recordColonyCountAction = workspaceAction(
  { permission, schema: newColonyCountFormSchema },
  async ({ tx, input, ...actor }) => recordColonyCount(tx, actor, readColonyCount(input)),
)

export const recordColonyMoveAction = workspaceAction(
  { permission, schema: moveColonySchema },
  async ({ tx, input, ...actor }) => recordColonyMove(tx, actor, input),
)

export const archiveColonyAction = workspaceAction(
  { permission, schema: archiveColonySchema },
  async ({ tx, input, ...actor }) => archiveColony(tx, actor, input),
)
