'use server'

import { archiveSigns, recordLooks } from '@/lib/features/look/mutations'
import { archiveSignsSchema, newSignFormSchema, readNewSigns } from '@/lib/features/look/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordSignsAction = workspaceAction(
  { permission: 'individual:write', schema: newSignFormSchema },
  async ({ tx, input, ...actor }) => {
    const { warnings, ...value } = await recordLooks(tx, actor, readNewSigns(input))
    return { value, warnings }
  },
)

export const archiveSignsAction = workspaceAction(
  { permission: 'individual:write', schema: archiveSignsSchema },
  async ({ tx, input, ...actor }) => ({ value: await archiveSigns(tx, actor, input), warnings: [] }),
)
