'use client'

import { signOut } from 'next-auth/react'
import { useState } from 'react'
import { forgetSent } from '../bench/queue/leaving'
import { forgetSentReceipts } from '../stall/stall-store'
import { Button } from '../ui/button'
import { Dialog } from '../ui/dialog'
import { showToast } from '../ui/toast'
import { sayUnsent } from './unsent'

/**
 * Ends the session on this device, on the server too, and leaves nothing of the page behind. What was counted at the
 * bench or on a round and not sent is said first, since only the same person can send it.
 */
export function SignOut() {
  const [isSending, setSending] = useState(false)
  const [unsent, setUnsent] = useState<string | null>(null)

  async function leave() {
    if (isSending) return
    setSending(true)
    const left = await sayUnsent()
    setUnsent(left)
    if (left === null) await endSession()
    setSending(false)
  }

  async function endSession() {
    setUnsent(null)
    try {
      await signOut({ redirect: false })
      await forgetSent()
      await forgetSentReceipts()
      window.location.assign('/')
    } catch {
      showToast({ what: 'You are still signed in.', why: 'There is no connection to the service.' })
    }
  }

  return (
    <>
      <Button kind="quiet" isBusy={isSending} onClick={leave}>
        {isSending ? 'Signing out …' : 'Sign out'}
      </Button>
      <Dialog
        isOpen={unsent !== null}
        onOpenChange={(isOpen) => !isOpen && setUnsent(null)}
        title={unsent ?? ''}
      >
        <p>
          They stay on this device and are sent when whoever tapped them signs in here again. Until then the
          service does not know of them.
        </p>
        <div className="mt-5 flex flex-wrap gap-3">
          <Button kind="filled" onClick={() => setUnsent(null)}>
            Stay signed in
          </Button>
          <Button kind="quiet" onClick={endSession}>
            Sign out all the same
          </Button>
        </div>
      </Dialog>
    </>
  )
}
