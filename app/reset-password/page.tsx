import { PlainFrame } from '@/components/shell/plain-frame'
import { LinkButton } from '@/components/ui/link-button'
import { loadForgottenPage } from '@/lib/features/person/loaders'
import { AskForReset } from './_components/ask-for-reset'

export const metadata = { title: 'A new password' }

export default function ForgottenPage() {
  const { hasServer } = loadForgottenPage()
  return (
    <PlainFrame>
      <h1>A new password</h1>
      {hasServer ? (
        <>
          <p className="mt-1 mb-6 max-w-xl text-soft">
            A mail brings a link that works once and for ten minutes. Until you use it, your password stays as
            it is.
          </p>
          <AskForReset />
        </>
      ) : (
        <>
          <p className="mt-3 max-w-xl">
            This service has no mail server, so it cannot send you a link. Ask whoever runs it: this command
            prints one for you.
          </p>
          <p className="mt-3 mb-6 max-w-xl overflow-x-auto">
            <code>npm run -s reset-link -- --email you@example.org</code>
          </p>
          <LinkButton href="/sign-in">Back to signing in</LinkButton>
        </>
      )}
    </PlainFrame>
  )
}
