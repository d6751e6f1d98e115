import { writeCalendar } from '@/lib/domain/calendar/icalendar'
import { isAllowed } from '@/lib/domain/role/permissions'
import { listCalendarEntries } from '@/lib/features/calendar-feed/data'
import { lookUpCalendarFeed } from '@/lib/platform/calendar-feed'
import { countAttempt } from '@/lib/platform/throttle'
import { inWorkspace } from '@/lib/platform/workspace'

/** The calendar that a key opens, as text; null where it opens none. */
export async function loadCalendar(key: string): Promise<string | null> {
  const feed = await lookUpCalendarFeed(key)
  if (!feed || !isAllowed(feed.scope.role, 'day-sheet:read')) return null
  await countAttempt('calendar-feed', feed.feedId)
  return inWorkspace(feed.scope, async (tx, workspace) =>
    writeCalendar({
      name: workspace.name,
      timeZone: workspace.timeZone,
      entries: await listCalendarEntries(tx, workspace),
    }),
  )
}
