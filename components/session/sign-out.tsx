'use client'

import { signOut } from 'next-auth/react'
import { useState } from 'react'
import { Button } from '../ui/button'
import { showToast } from '../ui/toast'

/** Ends the session on this device, on the server too, and leaves nothing of the page behind. */
export function SignOut() {
  const [isSending, setSending] = useState(false)
  async function leave() {
    if (isSending) return
    setSending(true)
    try {
      await signOut({ redirect: false })
      window.location.assign('/')
    } catch {
      setSending(false)
      showToast({ what: 'You are still signed in.', why: 'There is no connection to the service.' })
    }
  }
  return (
    <Button kind="quiet" isBusy={isSending} onClick={leave}>
      {isSending ? 'Signing out …' : 'Sign out'}
    </Button>
  )
}
