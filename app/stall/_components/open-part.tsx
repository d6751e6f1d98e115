'use client'

import { useEffect, useState } from 'react'
import { Opening, type Trouble, troubleOf } from '@/components/offline/opening'
import type { PageCopy } from '@/components/offline/use-page-copy'
import type { PartWanted, StallDevice, StallState } from '@/components/stall/stall-device'
import { StallCounter } from './stall-counter'

type Props = { wanted: PartWanted; device: StallDevice; state: StallState; copy: PageCopy }
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
  const trouble = isLasting ? troubleOf(opened, WORDS) : KEEPS_NOTHING
  return (
    <Opening
      title="Counter at a show"
      fetching="Fetching the box …"
      home="/stall"
      {...{ isSignedOut, trouble }}
      onSignIn={() => device.setSigningIn(true)}
      onRetry={isLasting ? () => setAttempt(attempt + 1) : undefined}
    />
  )
}

const KEEPS_NOTHING: Trouble = {
  what: 'This browser keeps nothing on the device.',
  why: 'A receipt that can be lost is none. Use a window that is not private, or the counter with a connection.',
}

const WORDS = {
  refusedWhy: 'The box lists its parts and says which device has which.',
  offline: {
    what: 'This box is not on this device yet, and there is no connection.',
    why: 'A part that was opened here once sells without a connection.',
  },
  failed: 'The service could not hand over the box.',
}
