'use client'

import { type SyntheticEvent, useState } from 'react'
import { Button } from '../ui/button'
import { Dialog } from '../ui/dialog'
import type { SignInProps } from '../ui/form/sign-in-slot'
import { TextField } from '../ui/text-field'
import { SignInTrouble } from './sign-in-trouble'
import { readTyped, type Trouble, tryToSignIn } from './try-sign-in'

/** Signs in on top of the page, so that what was typed under it can be sent afterwards. */
export function SignInAgain({ isOpen, onSignedIn, onGiveUp, email = '' }: SignInProps & { email?: string }) {
  const [trouble, setTrouble] = useState<Trouble>()
  const [isSending, setSending] = useState(false)

  async function submit(event: SyntheticEvent<HTMLFormElement>) {
    event.preventDefault()
    event.stopPropagation()
    if (isSending) return
    const typed = readTyped(event.currentTarget)
    setSending(true)
    const met = await tryToSignIn(typed)
    setSending(false)
    setTrouble(met)
    if (met === undefined) onSignedIn()
  }

  return (
    <Dialog isOpen={isOpen} onOpenChange={(open) => !open && onGiveUp()} isFirm title="Sign in again">
      <form method="post" noValidate onSubmit={submit} className="space-y-4">
        <p className="text-soft">Then what you entered is sent at once.</p>
        <TextField
          label="Mail address"
          name="email"
          type="email"
          autoComplete="username"
          defaultValue={email}
        />
        <TextField
          label="Password"
          name="password"
          type="password"
          autoComplete="current-password"
          autoFocus={email !== ''}
        />
        <SignInTrouble trouble={trouble} />
        <div className="flex flex-wrap gap-3">
          <Button type="submit" kind="filled" isBusy={isSending}>
            {isSending ? 'Signing in …' : 'Sign in and send'}
          </Button>
          <Button kind="quiet" onClick={onGiveUp}>
            Not now
          </Button>
        </div>
      </form>
    </Dialog>
  )
}
