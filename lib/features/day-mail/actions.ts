'use server'

import { endDayMail, recordDayMail } from '@/lib/features/day-mail/mutations'
import { dayMailEndSchema, dayMailSchema } from '@/lib/features/day-mail/schema'
import { workspaceAction } from '@/lib/platform/action'

const permission = 'day-sheet:read'

export const recordDayMailAction = workspaceAction(
  { permission, schema: dayMailSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await recordDayMail(tx, { scope, workspace }, input),
    warnings: [],
  }),
)

export const endDayMailAction = workspaceAction(
  { permission, schema: dayMailEndSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await endDayMail(tx, { scope, workspace }, input),
    warnings: [],
  }),
)
