import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'

export const metadata = { title: 'Signed out' }

export default function Unauthorized() {
  return (
    <PlainFrame>
      <h1>You are signed out</h1>
      <p className="mt-2 mb-6 text-soft">Sign in to see this page.</p>
      <LinkButton kind="filled" href="/sign-in">
        Sign in
      </LinkButton>
    </PlainFrame>
  )
}
