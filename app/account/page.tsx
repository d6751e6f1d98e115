import Link from 'next/link'
import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { SignOut } from '@/components/session/sign-out'
import { PlainFrame } from '@/components/shell/plain-frame'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { loadAccountPage } from '@/lib/features/person/loaders'
import { ChangePassword } from './_components/change-password'
import { ConfirmAddress } from './_components/confirm-address'
import { SecondFactorPart } from './_components/second-factor-part'

export const metadata = { title: 'Your account' }

type Props = { searchParams: Promise<{ wanted?: string | string[] }> }

export default async function AccountPage({ searchParams }: Props) {
  const { wanted } = await searchParams
  const { name, email, confirmation, secondFactor } = await loadAccountPage()
  return (
    <PlainFrame aside={<SignOut />}>
      <SignInAgainProvider email={email}>
        <PageHeader
          title="Your account"
          facts={`${name}, ${email}${confirmation ? '' : ', confirmed'}`}
          parent={{ href: '/', label: 'Your workspaces' }}
        />
        {wanted === 'second-factor' && !secondFactor.isOn ? (
          <Notice
            state="due"
            what="That workspace asks for a second factor at sign-in."
            why="It opens as soon as yours is set up below."
          />
        ) : null}
        {confirmation ? <ConfirmAddress email={email} mail={confirmation.mail} /> : null}
        <section className="mt-6">
          <h2 className="mb-3">Second factor</h2>
          <SecondFactorPart secondFactor={secondFactor} />
        </section>
        <section className="mt-10">
          <h2 className="mb-3">Password</h2>
          <ChangePassword />
        </section>
        <p className="mt-8 text-small text-soft">
          <Link href="/devices" className="target inline-flex items-center underline">
            Where you are signed in
          </Link>
        </p>
      </SignInAgainProvider>
    </PlainFrame>
  )
}
