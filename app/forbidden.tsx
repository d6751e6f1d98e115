import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'

export const metadata = { title: 'Not for your role' }

export default function Forbidden() {
  return (
    <PlainFrame>
      <h1>Your role does not include this page</h1>
      <p className="mt-2 mb-6 text-soft">An owner of the workspace can give you another role.</p>
      <LinkButton kind="filled" href="/">
        To the start
      </LinkButton>
    </PlainFrame>
  )
}
