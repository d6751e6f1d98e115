import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'
import { loadConfirmationPage } from '@/lib/features/person/loaders'
import { ConfirmAddress } from './_components/confirm-address'

export const metadata = { title: 'Confirm your address', referrer: 'no-referrer' as const }

type Props = { params: Promise<{ token: string }> }

export default async function ConfirmPage({ params }: Props) {
  const { token } = await params
  const found = await loadConfirmationPage(token)
  if (!found) return <Spent />
  return (
    <PlainFrame>
      <h1>Is this your address?</h1>
      <p className="mt-1 mb-6 max-w-xl text-soft">{found.email}</p>
      <ConfirmAddress token={token} />
    </PlainFrame>
  )
}

function Spent() {
  return (
    <PlainFrame>
      <h1>This link cannot be used any more</h1>
      <p className="mt-3 mb-6 max-w-xl text-soft">
        It works once and for a day. If your address is confirmed, there is nothing left to do; your account
        says so, and has a new link sent where it is not.
      </p>
      <LinkButton kind="filled" href="/account">
        Your account
      </LinkButton>
    </PlainFrame>
  )
}
