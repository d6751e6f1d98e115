'use server'

import { createIndividuals, recordSexing, updateIndividualNote } from '@/lib/features/individual/mutations'
import {
  newIndividualFormSchema,
  noteFormSchema,
  readNewIndividual,
  sexingFormSchema,
} from '@/lib/features/individual/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createIndividualsAction = workspaceAction(
  { permission: 'individual:write', schema: newIndividualFormSchema },
  async ({ tx, scope, workspace, input }) => {
    const lot = { animal: readNewIndividual(input), count: input.count }
    return createIndividuals(tx, { scope, workspace }, lot)
  },
)

export const recordSexingAction = workspaceAction(
  { permission: 'individual:write', schema: sexingFormSchema },
  async ({ tx, workspace, input }) => recordSexing(tx, workspace, input),
)

export const updateIndividualNoteAction = workspaceAction(
  { permission: 'individual:write', schema: noteFormSchema },
  async ({ tx, workspace, input }) => ({
    value: await updateIndividualNote(tx, workspace, input),
    warnings: [],
  }),
)
