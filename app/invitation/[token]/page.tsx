import { SignOut } from '@/components/session/sign-out'
import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'
import { ROLE_SENTENCES } from '@/lib/domain/role/permissions'
import { loadInvitationPage } from '@/lib/features/invitation/loaders'
import { AcceptInvitation } from './_components/accept-invitation'

export const metadata = { title: 'Invitation', referrer: 'no-referrer' as const }

type Props = { params: Promise<{ token: string }> }

export default async function InvitationPage({ params }: Props) {
  const { token } = await params
  const { invitation, person } = await loadInvitationPage(token)
  if (!invitation) return <Spent />
  const next = encodeURIComponent(`/invitation/${token}`)
  return (
    <PlainFrame aside={person ? <SignOut /> : null}>
      <h1>{invitation.workspaceName} invites you</h1>
      <p className="mt-3 max-w-xl">
        {invitation.inviter} would like you to work with them as <strong>{invitation.role}</strong>.
      </p>
      <p className="mt-1 mb-6 max-w-xl text-soft">{ROLE_SENTENCES[invitation.role]}</p>
      {person ? (
        <AcceptInvitation token={token} name={person.name} email={person.email} />
      ) : (
        <div className="flex flex-wrap gap-3">
          <LinkButton kind="filled" href={`/sign-up?next=${next}`}>
            Open an account
          </LinkButton>
          <LinkButton href={`/sign-in?next=${next}`}>I have one: sign in</LinkButton>
        </div>
      )}
    </PlainFrame>
  )
}

function Spent() {
  return (
    <PlainFrame>
      <h1>This invitation cannot be used any more</h1>
      <p className="mt-3 mb-6 max-w-xl text-soft">
        It works once and for seven days, or it was taken back. If you accepted it, the workspace is among
        yours. Otherwise ask for a new one.
      </p>
      <LinkButton kind="filled" href="/">
        To the start
      </LinkButton>
    </PlainFrame>
  )
}
