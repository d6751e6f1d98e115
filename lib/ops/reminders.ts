// What reaches people without being asked for: the day sheet by mail, and the dates in their calendars.
import { updateCalendar } from '@/lib/features/calendar-feed/mutations'
import { createDayMail } from '@/lib/features/day-mail/mutations'
import { listCalendarWorkspaces } from '@/lib/platform/calendar-feed'
import { listDueDayMails } from '@/lib/platform/due-day-mail'
import { AppError } from '@/lib/platform/errors'
import type { FeatureJobs } from '@/lib/platform/jobs'
import { log } from '@/lib/platform/log'
import { inWorkspace, mintScope, type Scope } from '@/lib/platform/workspace'

/** A minute's worth; whoever is left over is due in the next one. */
const MOST_MAILS = 500

export const REMINDER_JOBS: FeatureJobs = {
  tasks: { 'day-mail-due': writeDueMails, 'calendar-due': updateCalendars },
  everyMinute: ['day-mail-due'],
  everyQuarterHour: ['calendar-due'],
}

/** Everybody who is due, each in a transaction of their own: one that fails keeps no other from being written. */
export async function writeDueMails(): Promise<void> {
  const due = await listDueDayMails(new Date(), MOST_MAILS)
  await forEach(due.map(mintScope), 'day-mail', (scope) =>
    inWorkspace(scope, (tx, workspace) => createDayMail(tx, { scope, workspace })),
  )
}

export async function updateCalendars(): Promise<void> {
  const ids = await listCalendarWorkspaces()
  const scopes = ids.map((workspaceId) => mintScope({ workspaceId, personId: null, role: 'viewer' }))
  await forEach(scopes, 'calendar', (scope) => inWorkspace(scope, updateCalendar))
}

async function forEach(
  scopes: readonly Scope[],
  where: string,
  work: (scope: Scope) => Promise<unknown>,
): Promise<void> {
  let failed = 0
  for (const scope of scopes) {
    try {
      await work(scope)
    } catch (error) {
      failed += 1
      const said = error instanceof Error ? error.message : String(error)
      log.error({ where, workspace: scope.workspaceId, error: said }, 'a reminder could not be written')
    }
  }
  if (failed > 0) throw new AppError('busy', `${failed} reminders could not be written.`)
}
