'use client'

import { PlainFrame } from '../shell/plain-frame'
import { Button } from '../ui/button'
import { buttonStyle } from '../ui/button-style'
import { Notice } from '../ui/notice'
import type { Asked } from './ask'

export type Trouble = { what: string; why: string }

type Props = {
  title: string
  isSignedOut: boolean
  trouble: Trouble | undefined
  fetching: string
  /** Where the page lists what the device has. */
  home: '/bench' | '/stall'
  onSignIn: () => void
  /** Left out where another attempt cannot help. */
  onRetry?: (() => void) | undefined
}

/** While something is fetched onto a device, and where that could not be done. */
export function Opening({ title, isSignedOut, trouble, fetching, home, onSignIn, onRetry }: Props) {
  return (
    <PlainFrame>
      <h1>{title}</h1>
      <div className="mt-6 space-y-4">
        {isSignedOut ? (
          <Notice
            state="due"
            what="Nobody is signed in on this device."
            next={<Button onClick={onSignIn}>Sign in</Button>}
          />
        ) : trouble ? (
          <Notice
            state="late"
            isAnnounced
            {...trouble}
            next={onRetry ? <Button onClick={onRetry}>Try again</Button> : null}
          />
        ) : (
          <p role="status" className="text-soft">
            {fetching}
          </p>
        )}
        <a href={home} className={buttonStyle({ kind: 'quiet' })}>
          What this device has
        </a>
      </div>
    </PlainFrame>
  )
}

type Words = { refusedWhy: string; offline: Trouble; failed: string }

/** Why nothing was fetched; undefined while nothing went wrong. */
export function troubleOf(asked: Asked<unknown> | undefined, words: Words): Trouble | undefined {
  if (asked?.kind === 'refused') return { what: asked.message, why: words.refusedWhy }
  if (asked?.kind === 'offline') return words.offline
  if (asked?.kind === 'failed') return { what: words.failed, why: 'Try again in a minute.' }
  return undefined
}
