import { UnconfirmedAddress } from '@/components/session/unconfirmed-address'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { loadRemindersPage } from '@/lib/features/day-mail/loaders'
import { CalendarPart } from './_components/calendar-part'
import { DayMailPart } from './_components/day-mail-part'
import { sayHour } from './_components/say-hour'

export const metadata = { title: 'Mail and calendar' }

type Props = { params: Promise<{ workspace: string }> }

export default async function Reminders({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, timeZone, dayMail, feedAddress, hasServer, unconfirmed } =
    await loadRemindersPage(workspace)
  return (
    <>
      <PageHeader
        title="Mail and calendar"
        facts={`${workspaceName} · for you alone`}
        parent={{ href: `/w/${workspace}`, label: 'Day sheet' }}
      />
      <section className="mt-6 max-w-2xl">
        <h2>The day sheet by mail</h2>
        <p className="mt-2">
          {dayMail.isOn ? (
            <StateMark
              state="fine"
              word={`Every day at ${sayHour(dayMail.hour)} by the clock of ${timeZone}`}
            />
          ) : (
            <span className="text-soft">
              Everything the day asks for, at the hour you choose by the clock of {timeZone}.
            </span>
          )}
        </p>
        {unconfirmed ? (
          <div className="mt-3">
            <UnconfirmedAddress email={unconfirmed} />
          </div>
        ) : null}
        {dayMail.isOn && !hasServer ? (
          <div className="mt-3">
            <Notice
              state="due"
              what="No mail server is set, so it is written but not sent."
              why="An owner can read it under Workspace, Mails. Whoever runs the service sets SMTP_URL to send it."
            />
          </div>
        ) : null}
        <DayMailPart workspace={workspace} dayMail={dayMail} />
      </section>
      <section className="mt-10 max-w-2xl border-line border-t pt-6">
        <h2>Dates in your calendar</h2>
        <p className="mt-2 text-soft">
          Days by which siblings should be apart, hatch windows, and what is due today, for any calendar that
          subscribes to an address. It follows the forecasts every quarter of an hour, and stops with your
          place in this workspace.
        </p>
        <CalendarPart workspace={workspace} address={feedAddress} />
      </section>
    </>
  )
}
