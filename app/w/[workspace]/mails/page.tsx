import { Moment } from '@/components/calendar/moment'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import type { MailRow } from '@/lib/features/mail/data'
import { loadMailsPage } from '@/lib/features/mail/loaders'

export const metadata = { title: 'Mails' }

type Props = { params: Promise<{ workspace: string }> }

export default async function MailsPage({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, timeZone, hasServer, mails } = await loadMailsPage(workspace)
  return (
    <>
      <PageHeader
        title="Mails"
        facts={`${workspaceName} · what the service wrote`}
        parent={{ href: `/w/${workspace}/settings`, label: 'Workspace' }}
      />
      {hasServer ? null : (
        <Notice
          state="due"
          what="No mail server is set, so nothing is sent."
          why="Every mail stays here to be read and handed over. Whoever runs the service sets SMTP_URL to send them."
        />
      )}
      {mails.length === 0 ? (
        <EmptyScreen title="No mail yet">
          <p>Inviting someone writes the first one.</p>
        </EmptyScreen>
      ) : (
        <ul aria-label="Mails" className="divide-y divide-line">
          {mails.map((mail) => (
            <Mail key={mail.id} mail={mail} timeZone={timeZone} />
          ))}
        </ul>
      )}
    </>
  )
}

function Mail({ mail, timeZone }: { mail: MailRow; timeZone: string }) {
  const { to, subject, text, createdAt, sentAt, failure } = mail
  return (
    <li className="py-3.5">
      <details>
        <summary className="target">
          <span className="font-semibold">{subject}</span>
          <span className="block text-small text-soft">
            to {to}, written <Moment at={createdAt} timeZone={timeZone} />
          </span>
        </summary>
        <p className="mt-2 max-w-2xl whitespace-pre-wrap break-words border-line border-s-4 ps-4 text-small">
          {text}
        </p>
      </details>
      <p className="mt-1 text-small">
        {sentAt ? (
          <>
            Sent <Moment at={sentAt} timeZone={timeZone} />
          </>
        ) : failure ? (
          <StateMark state="late" word={`Not sent yet: ${failure}`} />
        ) : (
          <span className="text-soft">Not sent</span>
        )}
      </p>
    </li>
  )
}
