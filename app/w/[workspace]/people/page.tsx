import { UnconfirmedAddress } from '@/components/session/unconfirmed-address'
import { PageHeader } from '@/components/ui/page-header'
import { loadPeoplePage } from '@/lib/features/membership/loaders'
import { InvitePerson } from './_components/invite-person'
import { OpenInvitations } from './_components/open-invitations'
import { PersonEntry } from './_components/person-entry'
import { SecondFactorRule } from './_components/second-factor-rule'

export const metadata = { title: 'People' }

type Props = { params: Promise<{ workspace: string }> }

export default async function PeoplePage({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, ownPersonId, unconfirmed, requiresSecondFactor, present, left, invitations } =
    await loadPeoplePage(workspace)
  return (
    <>
      <PageHeader
        title="People"
        facts={`${workspaceName} · who works here and as what`}
        actions={unconfirmed ? undefined : <InvitePerson workspace={workspace} />}
      />
      {unconfirmed ? <UnconfirmedAddress email={unconfirmed} /> : null}
      <ul aria-label="People" className="divide-y divide-line">
        {present.map((member) => (
          <PersonEntry
            key={member.personId}
            workspace={workspace}
            member={member}
            isSelf={member.personId === ownPersonId}
          />
        ))}
      </ul>
      <OpenInvitations workspace={workspace} invitations={invitations} />
      <SecondFactorRule workspace={workspace} isRequired={requiresSecondFactor} />
      {left.length > 0 ? (
        <section className="mt-8">
          <h2>No longer here</h2>
          <p className="text-small text-soft">What they recorded keeps their name.</p>
          <ul aria-label="No longer here" className="mt-2 text-small">
            {left.map((member) => (
              <li key={member.personId}>
                {member.name}, {member.role}
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </>
  )
}
