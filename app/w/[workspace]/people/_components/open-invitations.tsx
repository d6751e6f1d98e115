import { CopyButton } from '@/components/ui/copy-button'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { OpenInvitation } from '@/lib/features/invitation/data'
import { RevokeInvitation } from './revoke-invitation'

type Props = { workspace: string; invitations: OpenInvitation[] }

export function OpenInvitations({ workspace, invitations }: Props) {
  if (invitations.length === 0) return null
  return (
    <section className="mt-8">
      <h2>Open invitations</h2>
      <p className="text-small text-soft">
        Whoever has the link can accept it, once. Hand it over yourself where no mail is sent.
      </p>
      <ul aria-label="Open invitations" className="mt-2 divide-y divide-line border-line border-y">
        {invitations.map(({ id, email, role, expiresAt, address }) => (
          <li key={id} className="py-3.5">
            <p>
              <strong>{email}</strong> as {role}
              <span className="text-small text-soft"> · until {writeDay(expiresAt.slice(0, 10))}</span>
            </p>
            <p className="select-all break-all text-small">{address}</p>
            <div className="-ms-4 flex flex-wrap">
              <CopyButton text={address} label="Copy the link" />
              <RevokeInvitation workspace={workspace} id={id} />
            </div>
          </li>
        ))}
      </ul>
    </section>
  )
}
