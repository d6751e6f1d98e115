import Link from 'next/link'
import { SignOut } from '@/components/session/sign-out'
import { UnconfirmedAddress } from '@/components/session/unconfirmed-address'
import { PlainFrame } from '@/components/shell/plain-frame'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { loadFrontPage } from '@/lib/features/person/loaders'
import type { OwnWorkspace } from '@/lib/platform/session'
import { Deleted } from './_components/deleted'

export default async function FrontPage() {
  const signedIn = await loadFrontPage()
  if (!signedIn) return <Welcome />
  const { person, unconfirmed, workspaces, deleted } = signedIn
  return (
    <PlainFrame aside={<SignOut />}>
      <h1>Your workspaces</h1>
      <p className="mt-1 mb-6 text-small text-soft">
        Signed in as {person.name} ·{' '}
        <Link href="/devices" className="underline">
          devices
        </Link>
      </p>
      {unconfirmed ? (
        <div className="mb-6">
          <UnconfirmedAddress email={unconfirmed} />
        </div>
      ) : null}
      {workspaces.length === 0 ? <NoneYet /> : <Workspaces workspaces={workspaces} />}
      {deleted.length > 0 ? <Deleted email={person.email} deleted={deleted} /> : null}
    </PlainFrame>
  )
}

function Welcome() {
  return (
    <PlainFrame>
      <h1>From egg case to handed-over animal</h1>
      <p className="mt-3 max-w-xl text-lead text-soft">
        Records and forecasts for mantis breeders and small shops: when each egg case hatches, when siblings
        must be apart, when an animal moults and may leave, and the sheet its new keeper needs.
      </p>
      <div className="mt-8 flex flex-wrap gap-3">
        <LinkButton kind="filled" href="/sign-in">
          Sign in
        </LinkButton>
        <LinkButton href="/sign-up">Open an account</LinkButton>
      </div>
    </PlainFrame>
  )
}

function NoneYet() {
  const action = (
    <LinkButton kind="filled" href="/workspaces/new">
      Make a workspace
    </LinkButton>
  )
  return (
    <EmptyScreen title="You do not belong to a workspace yet" action={action}>
      <p>
        A workspace is one breeder or one shop: its animals, zones and people. To join one that is there
        already, ask its owner for an invitation. One can also be{' '}
        <Link href="/workspaces/restore" className="underline">
          made from a file
        </Link>{' '}
        with everything of an earlier one.
      </p>
    </EmptyScreen>
  )
}

function Workspaces({ workspaces }: { workspaces: OwnWorkspace[] }) {
  return (
    <>
      <ul aria-label="Your workspaces" className="divide-y divide-line border-line border-y">
        {workspaces.map(({ slug, name, role }) => (
          <li key={slug}>
            <Link
              href={`/w/${slug}`}
              prefetch={false}
              className="target flex flex-wrap items-baseline justify-between gap-x-4 py-3 no-underline hover:bg-wash"
            >
              <span className="font-name font-semibold text-name underline underline-offset-4">{name}</span>
              <span className="text-small text-soft">{role}</span>
            </Link>
          </li>
        ))}
      </ul>
      <div className="mt-6 flex flex-wrap gap-3">
        <LinkButton href="/workspaces/new">Make another workspace</LinkButton>
        <LinkButton kind="quiet" href="/workspaces/restore">
          Make one from a file
        </LinkButton>
      </div>
    </>
  )
}
