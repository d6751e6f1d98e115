'use server'

import { createCalendarFeed, revokeCalendarFeed } from '@/lib/features/calendar-feed/mutations'
import { calendarFeedSchema } from '@/lib/features/calendar-feed/schema'
import { workspaceAction } from '@/lib/platform/action'

const permission = 'day-sheet:read'

export const createCalendarFeedAction = workspaceAction(
  { permission, schema: calendarFeedSchema },
  async ({ tx, scope, workspace }) => ({
    value: await createCalendarFeed(tx, { scope, workspace }),
    warnings: [],
  }),
)

export const revokeCalendarFeedAction = workspaceAction(
  { permission, schema: calendarFeedSchema },
  async ({ tx, scope, workspace }) => ({
    value: await revokeCalendarFeed(tx, { scope, workspace }),
    warnings: [],
  }),
)
