'use client'

import Link from 'next/link'
import { useRef } from 'react'
import { tryToSignIn } from '@/components/session/try-sign-in'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { signUpAction } from '@/lib/features/person/actions'
import { PASSWORD_LETTERS, signUpSchema } from '@/lib/features/person/schema'
import type { ActionCall } from '@/lib/platform/action-result'

export function SignUpForm({ next }: { next: string }) {
  const typed = useRef({ email: '', password: '' })
  const signInAddress = `/sign-in?next=${encodeURIComponent(next)}`

  function remember(call: ActionCall) {
    const parsed = signUpSchema.safeParse(call.input)
    if (parsed.success) typed.current = parsed.data
    return signUpAction(call)
  }

  async function goOn() {
    const trouble = await tryToSignIn({ ...typed.current, code: '' })
    window.location.assign(trouble ? `${signInAddress}&new=yes` : next)
  }

  return (
    <RecordForm
      name="sign-up"
      schema={signUpSchema}
      action={remember}
      onDone={goOn}
      submitLabel="Open an account"
      className="max-w-md"
      aside={
        <Link href={signInAddress} className="target inline-flex items-center px-2 underline">
          I have one: sign in
        </Link>
      }
    >
      <FormText
        name="name"
        label="Your name"
        hint="As it stands beside what you record."
        autoComplete="name"
      />
      <FormText name="email" label="Mail address" type="email" autoComplete="username" />
      <FormText
        name="password"
        label="Password"
        type="password"
        autoComplete="new-password"
        hint={`At least ${PASSWORD_LETTERS} letters, figures or signs. A few words are easier to keep than a short riddle.`}
      />
    </RecordForm>
  )
}
