import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'
import { loadResetPage } from '@/lib/features/person/loaders'
import { ChoosePassword } from './_components/choose-password'

export const metadata = { title: 'A new password', referrer: 'no-referrer' as const }

type Props = { params: Promise<{ token: string }> }

export default async function ResetPage({ params }: Props) {
  const { token } = await params
  const found = await loadResetPage(token)
  if (!found) return <Spent />
  return (
    <PlainFrame>
      <h1>A new password</h1>
      <p className="mt-1 mb-6 max-w-xl text-soft">
        For {found.email}. Every device is signed out with it, this one too.
      </p>
      <ChoosePassword token={token} email={found.email} />
    </PlainFrame>
  )
}

function Spent() {
  return (
    <PlainFrame>
      <h1>This link cannot be used any more</h1>
      <p className="mt-3 mb-6 max-w-xl text-soft">It works once and for ten minutes. Ask for a new one.</p>
      <LinkButton kind="filled" href="/reset-password">
        Ask for a new one
      </LinkButton>
    </PlainFrame>
  )
}
