import Link from 'next/link'
import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { SignOut } from '@/components/session/sign-out'
import { PlainFrame } from '@/components/shell/plain-frame'
import { PageHeader } from '@/components/ui/page-header'
import { requireSignedIn } from '@/lib/features/person/loaders'
import { ChangePassword } from './_components/change-password'

export const metadata = { title: 'Your account' }

export default async function AccountPage() {
  const { name, email } = await requireSignedIn('/account')
  return (
    <PlainFrame aside={<SignOut />}>
      <SignInAgainProvider email={email}>
        <PageHeader
          title="Your account"
          facts={`${name}, ${email}`}
          parent={{ href: '/', label: 'Your workspaces' }}
        />
        <h2 className="mb-3">Password</h2>
        <ChangePassword />
        <p className="mt-8 text-small text-soft">
          <Link href="/devices" className="target inline-flex items-center underline">
            Where you are signed in
          </Link>
        </p>
      </SignInAgainProvider>
    </PlainFrame>
  )
}
