import { getFeedAddress, listCalendarEntries, listKeptDates } from '@/lib/features/calendar-feed/data'
import {
  createCalendarFeed,
  revokeCalendarFeed,
  updateCalendar,
} from '@/lib/features/calendar-feed/mutations'
import { loadDayMail } from '@/lib/features/day-mail/data'
import { createDayMail, endDayMail, recordDayMail } from '@/lib/features/day-mail/mutations'
import { loadDayDates } from '@/lib/features/day-sheet/data'
import type { Calls } from './call'

export const REMINDER_READS: Calls = {
  'calendar-feed/data getFeedAddress': (tx, { workspace }, id) =>
    getFeedAddress(tx, workspace.workspaceId, id.person),
  'calendar-feed/data listKeptDates': (tx, { workspace }) => listKeptDates(tx, workspace.workspaceId),
  'calendar-feed/data listCalendarEntries': (tx, { workspace }) => listCalendarEntries(tx, workspace),
  'day-mail/data loadDayMail': (tx, { workspace }, id) => loadDayMail(tx, workspace.workspaceId, id.person),
  'day-sheet/data loadDayDates': (tx, { workspace }) => loadDayDates(tx, workspace),
}

export const REMINDER_WRITES: Calls = {
  'calendar-feed/mutations createCalendarFeed': (tx, actor) => createCalendarFeed(tx, actor),
  'calendar-feed/mutations revokeCalendarFeed': async (tx, actor) => {
    await createCalendarFeed(tx, actor)
    return revokeCalendarFeed(tx, actor)
  },
  'calendar-feed/mutations updateCalendar': (tx, { workspace }) => updateCalendar(tx, workspace),
  'day-mail/mutations recordDayMail': (tx, actor) => recordDayMail(tx, actor, { version: 1, hour: 8 }),
  'day-mail/mutations endDayMail': (tx, actor) => endDayMail(tx, actor, { version: 1 }),
  'day-mail/mutations createDayMail': (tx, actor) => createDayMail(tx, actor),
}
