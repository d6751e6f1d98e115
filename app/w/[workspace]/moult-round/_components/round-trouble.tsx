'use client'

import { useState } from 'react'
import type { Kept } from '@/components/moult-round/round-keeper'
import { Button } from '@/components/ui/button'
import { useSignInDialog } from '@/components/ui/form/sign-in-slot'
import { Notice } from '@/components/ui/notice'

type Props = { kept: Kept; isUnsent: boolean; onSend: () => void }

/** What keeps a round from being sent, and the way on. Nothing tapped is lost by any of it. */
export function RoundTrouble({ kept, isUnsent, onSend }: Props) {
  const SignInDialog = useSignInDialog()
  const [isOpen, setOpen] = useState(true)
  if (!kept.isLasting)
    return (
      <Notice
        state="due"
        what="This browser keeps nothing."
        why="The round is lost if this page is closed before it is sent."
      />
    )
  if (kept.link === 'older-build')
    return (
      <Notice
        state="late"
        isAnnounced
        what="The service has been renewed since this page was opened."
        why="Loading it anew keeps the round."
        next={<Button onClick={() => window.location.reload()}>Load anew</Button>}
      />
    )
  if (kept.link === 'signed-out')
    return (
      <>
        <Notice
          state="late"
          isAnnounced
          what="You have been signed out."
          why="The round is kept on this device."
          next={<Button onClick={() => setOpen(true)}>Sign in and send</Button>}
        />
        {SignInDialog ? (
          <SignInDialog
            isOpen={isOpen}
            onSignedIn={() => {
              setOpen(false)
              onSend()
            }}
            onGiveUp={() => setOpen(false)}
          />
        ) : null}
      </>
    )
  if (kept.link === 'waiting' && isUnsent)
    return (
      <Notice
        state="due"
        isAnnounced
        what="There is no connection to the service."
        why="Walk on: the round is kept on this device and sent by itself. Nothing counts twice."
        next={<Button onClick={onSend}>Send now</Button>}
      />
    )
  return null
}
