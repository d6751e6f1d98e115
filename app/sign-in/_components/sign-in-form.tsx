'use client'

import Link from 'next/link'
import { type SyntheticEvent, useState } from 'react'
import { SignInTrouble } from '@/components/session/sign-in-trouble'
import { readTyped, type Trouble, tryToSignIn } from '@/components/session/try-sign-in'
import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import { TextField } from '@/components/ui/text-field'

type Props = { next: string; isFromSignUp: boolean; isFromReset: boolean }

const BOTH: Trouble = {
  what: 'Enter your mail address and your password.',
  why: 'One of them is still empty.',
}

/** What happens to the password is next-auth's business, so this is the one form without an action of ours. */
export function SignInForm({ next, isFromSignUp, isFromReset }: Props) {
  const [trouble, setTrouble] = useState<Trouble>()
  const [isSending, setSending] = useState(false)

  async function submit(event: SyntheticEvent<HTMLFormElement>) {
    event.preventDefault()
    if (isSending) return
    const typed = readTyped(event.currentTarget)
    if (typed.email === '' || typed.password === '') return setTrouble(BOTH)
    setSending(true)
    const met = await tryToSignIn(typed)
    if (!met) return window.location.assign(next)
    setSending(false)
    setTrouble(met)
  }

  return (
    <form method="post" noValidate onSubmit={submit} className="max-w-md space-y-5">
      {isFromSignUp ? (
        <Notice
          state="fine"
          what="Now sign in."
          why="If this address had an account before, its old password still holds and the new one was not taken."
        />
      ) : null}
      {isFromReset ? <Notice state="fine" what="Your new password is set." why="Sign in with it." /> : null}
      <TextField label="Mail address" name="email" type="email" autoComplete="username" />
      <TextField label="Password" name="password" type="password" autoComplete="current-password" />
      <SignInTrouble trouble={trouble} />
      <div className="flex flex-wrap items-center gap-3">
        <Button type="submit" kind="filled" isBusy={isSending}>
          {isSending ? 'Signing in …' : 'Sign in'}
        </Button>
        <Link
          href={`/sign-up?next=${encodeURIComponent(next)}`}
          className="target inline-flex items-center px-2 underline"
        >
          Open an account
        </Link>
        <Link href="/reset-password" className="target inline-flex items-center px-2 underline">
          Forgot the password
        </Link>
      </div>
    </form>
  )
}
