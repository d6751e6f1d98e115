'use server'

import { archiveMoult, recordMoults } from '@/lib/features/moult/mutations'
import { archiveMoultSchema, newMoultFormSchema, readNewMoults } from '@/lib/features/moult/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordMoultsAction = workspaceAction(
  { permission: 'individual:write', schema: newMoultFormSchema },
  async ({ tx, workspace, input }) => recordMoults(tx, workspace, readNewMoults(input)),
)

export const archiveMoultAction = workspaceAction(
  { permission: 'individual:write', schema: archiveMoultSchema },
  async ({ tx, workspace, input }) => ({ value: await archiveMoult(tx, workspace, input), warnings: [] }),
)
