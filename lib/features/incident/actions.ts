'use server'

import { recordTaking, updateIncidentNote } from '@/lib/features/incident/mutations'
import { noteIncidentSchema, takeIncidentSchema } from '@/lib/features/incident/schema'
import { workspaceAction } from '@/lib/platform/action'

export const takeIncidentAction = workspaceAction(
  { permission: 'incident:take', schema: takeIncidentSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await recordTaking(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const updateIncidentNoteAction = workspaceAction(
  { permission: 'incident:take', schema: noteIncidentSchema },
  async ({ tx, scope, input }) => ({
    value: await updateIncidentNote(tx, scope.workspaceId, input),
    warnings: [],
  }),
)
