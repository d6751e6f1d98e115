'use client'

import { type ReactNode, type Ref, useState } from 'react'
import { Button } from '../button'
import { Notice } from '../notice'
import { useSignInDialog } from './sign-in-slot'
import type { Outcome } from './use-sending'

type Props = {
  outcome: Outcome
  /** Sends the same again, with the same operation id. */
  onRetry: () => void
  /** Loads the page anew and brings back what was typed. */
  onReload: () => void
  ref?: Ref<HTMLDivElement>
}

type Words = { what: ReactNode; why: ReactNode; next: ReactNode }

function wordsFor(outcome: Outcome, retry: ReactNode, reload: ReactNode): Words | null {
  switch (outcome.kind) {
    case 'connection':
      return {
        what: 'There is no connection to the service.',
        why: 'Nothing you entered is lost. Sending it again cannot record it twice.',
        next: retry,
      }
    case 'no-answer':
      return {
        what: 'The service did not answer properly.',
        why: 'It may be starting again just now. Nothing you entered is lost, and sending it again cannot record it twice.',
        next: retry,
      }
    case 'older-build':
      return {
        what: 'The service has been renewed since this page was opened.',
        why: 'This page is too old to send. Loading it anew keeps what you entered.',
        next: reload,
      }
    case 'failed':
      return {
        what: 'Something went wrong on our side.',
        why: (
          <>
            Nothing you entered is lost, and sending it again cannot record it twice. If it stays so, tell
            whoever runs the service this reference: <strong className="text-ink">{outcome.reference}</strong>
            .
          </>
        ),
        next: retry,
      }
    case 'refused':
      return { what: outcome.message, why: null, next: null }
    default:
      return null
  }
}

/** What became of a sending, in words, with the way on. */
export function OutcomeNotice({ outcome, onRetry, onReload, ref }: Props) {
  if (outcome.kind === 'signed-out') return <SignedOut onRetry={onRetry} />
  const words = wordsFor(
    outcome,
    <Button onClick={onRetry}>Send again</Button>,
    <Button onClick={onReload}>Load anew and keep my entries</Button>,
  )
  if (words === null) return null
  return <Notice ref={ref} state="late" isAnnounced {...words} />
}

function SignedOut({ onRetry }: { onRetry: () => void }) {
  const SignInDialog = useSignInDialog()
  const [isOpen, setOpen] = useState(true)
  return (
    <>
      <Notice
        state="late"
        isAnnounced
        what="You have been signed out."
        why="Nothing was recorded yet and nothing you entered is lost."
        next={
          SignInDialog ? (
            <Button onClick={() => setOpen(true)}>Sign in and send</Button>
          ) : (
            <>
              <a href="/sign-in" target="_blank" rel="noreferrer">
                Sign in in another tab
              </a>
              <Button onClick={onRetry}>Then send again</Button>
            </>
          )
        }
      />
      {SignInDialog ? (
        <SignInDialog isOpen={isOpen} onSignedIn={onRetry} onGiveUp={() => setOpen(false)} />
      ) : null}
    </>
  )
}
