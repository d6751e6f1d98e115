import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'

export const metadata = { title: 'Not here' }

/** The same for what never was and for what belongs to someone else. */
export default function NotFound() {
  return (
    <PlainFrame>
      <h1>There is nothing at this address</h1>
      <p className="mt-2 mb-6 text-soft">
        It may have been moved or archived, or it belongs to a workspace you are not signed in to.
      </p>
      <LinkButton kind="filled" href="/">
        To the start
      </LinkButton>
    </PlainFrame>
  )
}
