'use client'

import { useEffect, useState } from 'react'
import type { PageCopy } from '@/components/offline/use-page-copy'
import { PlainFrame } from '@/components/shell/plain-frame'
import type { PartWanted, StallDevice, StallState } from '@/components/stall/stall-device'
import { Button } from '@/components/ui/button'
import { buttonStyle } from '@/components/ui/button-style'
import { Notice } from '@/components/ui/notice'
import { StallCounter } from './stall-counter'

type Props = { wanted: PartWanted; device: StallDevice; state: StallState; copy: PageCopy }
type Trouble = { what: string; why: string }
type Opened = Awaited<ReturnType<StallDevice['openPart']>>

/** Takes a part for this device, which needs a connection once, and brings it up to date whenever there is one. */
export function OpenPart({ wanted, device, state, copy }: Props) {
  const [opened, setOpened] = useState<Opened>()
  const [attempt, setAttempt] = useState(0)
  const { isSignedOut, parts, who, isLasting } = state
  const kept = parts.find(
    ({ box, part, person }) =>
      box.id === wanted.box && part.number === wanted.part && (!who || person.id === who.person.id),
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt is another asking
  useEffect(() => {
    if (isSignedOut || !isLasting) return
    setOpened(undefined)
    void device.openPart(wanted).then(setOpened)
  }, [device, isSignedOut, isLasting, attempt])
  if (kept && isLasting && opened?.kind !== 'refused')
    return <StallCounter {...{ kept, device, state, copy }} onRefresh={() => setAttempt(attempt + 1)} />
  const trouble = isLasting ? opened && sayTrouble(opened) : KEEPS_NOTHING
  return (
    <PlainFrame>
      <h1>Counter at a show</h1>
      <div className="mt-6 space-y-4">
        {isSignedOut ? (
          <Notice
            state="due"
            what="Nobody is signed in on this device."
            next={<Button onClick={() => device.setSigningIn(true)}>Sign in</Button>}
          />
        ) : trouble ? (
          <Notice
            state="late"
            isAnnounced
            {...trouble}
            next={isLasting ? <Button onClick={() => setAttempt(attempt + 1)}>Try again</Button> : null}
          />
        ) : (
          <p role="status" className="text-soft">
            Fetching the box …
          </p>
        )}
        <a href="/stall" className={buttonStyle({ kind: 'quiet' })}>
          What this device has
        </a>
      </div>
    </PlainFrame>
  )
}

const KEEPS_NOTHING: Trouble = {
  what: 'This browser keeps nothing on the device.',
  why: 'A receipt that can be lost is none. Use a window that is not private, or the counter with a connection.',
}

function sayTrouble(opened: Opened): Trouble | undefined {
  if (opened.kind === 'refused')
    return { what: opened.message, why: 'The box lists its parts and says which device has which.' }
  if (opened.kind === 'offline')
    return {
      what: 'This box is not on this device yet, and there is no connection.',
      why: 'A part that was opened here once sells without a connection.',
    }
  if (opened.kind === 'failed')
    return { what: 'The service could not hand over the box.', why: 'Try again in a minute.' }
  return undefined
}
