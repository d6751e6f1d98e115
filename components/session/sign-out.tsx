'use client'

import { signOut } from 'next-auth/react'
import { useState } from 'react'
import { countUnsent, forgetSent } from '../bench/queue/leaving'
import { Button } from '../ui/button'
import { buttonStyle } from '../ui/button-style'
import { Dialog } from '../ui/dialog'
import { showToast } from '../ui/toast'

/**
 * Ends the session on this device, on the server too, and leaves nothing of the page behind. What was counted at the
 * bench and not sent is said first, since only the same person can send it.
 */
export function SignOut() {
  const [isSending, setSending] = useState(false)
  const [unsent, setUnsent] = useState(0)

  async function leave() {
    if (isSending) return
    setSending(true)
    const left = await countUnsent()
    setUnsent(left)
    if (left === 0) await endSession()
    setSending(false)
  }

  async function endSession() {
    setUnsent(0)
    try {
      await signOut({ redirect: false })
      await forgetSent()
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
        isOpen={unsent > 0}
        onOpenChange={(isOpen) => !isOpen && setUnsent(0)}
        title={
          unsent === 1 ? '1 entry at the bench is not sent' : `${unsent} entries at the bench are not sent`
        }
      >
        <p>
          They stay on this device and are sent when whoever tapped them signs in here again. Until then the
          service does not know of them.
        </p>
        <div className="mt-5 flex flex-wrap gap-3">
          <a href="/bench" className={buttonStyle({ kind: 'filled' })}>
            To the bench
          </a>
          <Button kind="quiet" onClick={endSession}>
            Sign out all the same
          </Button>
        </div>
      </Dialog>
    </>
  )
}
