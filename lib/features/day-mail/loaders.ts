import { getFeedAddress } from '@/lib/features/calendar-feed/data'
import { type DayMailRow, loadDayMail } from '@/lib/features/day-mail/data'
import { getUnconfirmedAddress } from '@/lib/platform/confirmation'
import { invariant } from '@/lib/platform/errors'
import { hasMailServer } from '@/lib/platform/mail'
import { loadPage } from '@/lib/platform/page'

export type RemindersPage = {
  workspaceName: string
  timeZone: string
  dayMail: DayMailRow
  feedAddress: string | null
  hasServer: boolean
  unconfirmed: string | null
}

/** What a person is told without opening the service: a mail in the morning, and dates in their calendar. */
export function loadRemindersPage(slug: string): Promise<RemindersPage> {
  return loadPage({ slug, permission: 'day-sheet:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, name, timeZone } = workspace
    invariant(scope.personId, 'a page is opened by a person')
    return {
      workspaceName: name,
      timeZone,
      dayMail: await loadDayMail(tx, workspaceId, scope.personId),
      feedAddress: await getFeedAddress(tx, workspaceId, scope.personId),
      hasServer: hasMailServer(),
      unconfirmed: (await getUnconfirmedAddress(scope.personId)) ?? null,
    }
  })
}
