'use server'

import {
  archiveMoult,
  archiveMoultRound,
  recordMoults,
  recordRoundShelf,
  updateMoultConfirmed,
  updateMoultDay,
} from '@/lib/features/moult/mutations'
import {
  archiveMoultSchema,
  archiveRoundSchema,
  confirmMoultDaySchema,
  newMoultFormSchema,
  readNewMoults,
  roundShelfSchema,
  updateMoultDaySchema,
} from '@/lib/features/moult/schema'
import { listTrayMoults, sayOnce } from '@/lib/features/tray/data'
import { trayMoultsFormSchema } from '@/lib/features/tray/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordMoultsAction = workspaceAction(
  { permission: 'individual:write', schema: newMoultFormSchema },
  async ({ tx, workspace, input }) => recordMoults(tx, workspace, readNewMoults(input)),
)

export const archiveMoultAction = workspaceAction(
  { permission: 'individual:write', schema: archiveMoultSchema },
  async ({ tx, workspace, input }) => ({ value: await archiveMoult(tx, workspace, input), warnings: [] }),
)

export const recordRoundShelfAction = workspaceAction(
  { permission: 'individual:write', schema: roundShelfSchema },
  async ({ tx, input, ...actor }) => recordRoundShelf(tx, actor, input),
)

export const archiveMoultRoundAction = workspaceAction(
  { permission: 'individual:write', schema: archiveRoundSchema },
  async ({ tx, input, ...actor }) => ({ value: await archiveMoultRound(tx, actor, input), warnings: [] }),
)

export const updateMoultDayAction = workspaceAction(
  { permission: 'individual:write', schema: updateMoultDaySchema },
  async ({ tx, workspace, input }) => ({ value: await updateMoultDay(tx, workspace, input), warnings: [] }),
)

export const confirmMoultDayAction = workspaceAction(
  { permission: 'individual:write', schema: confirmMoultDaySchema },
  async ({ tx, workspace, input }) => ({
    value: await updateMoultConfirmed(tx, workspace, input),
    warnings: [],
  }),
)

export const recordTrayMoultsAction = workspaceAction(
  { permission: 'individual:write', schema: trayMoultsFormSchema },
  async ({ tx, workspace, input }) => {
    const sent = await listTrayMoults(tx, workspace.workspaceId, input)
    const { value, warnings } = await recordMoults(tx, workspace, sent)
    return { value: { recorded: value.length }, warnings: sayOnce(warnings) }
  },
)
