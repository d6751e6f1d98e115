'use client'

import { useEffect, useState } from 'react'
import type { BenchDevice, DeviceState } from '@/components/bench/queue/bench-device'
import { PlainFrame } from '@/components/shell/plain-frame'
import { Button } from '@/components/ui/button'
import { buttonStyle } from '@/components/ui/button-style'
import { Notice } from '@/components/ui/notice'
import type { BenchAddress } from './use-bench-address'

type Props = { device: BenchDevice; state: DeviceState; address: BenchAddress }
type Trouble = { what: string; why: string }

/** Fetches a run that is not on this device yet. It takes a connection, once. */
export function OpeningRun({ device, state, address }: Props) {
  const [trouble, setTrouble] = useState<Trouble>()
  const [attempt, setAttempt] = useState(0)
  const { isSignedOut } = state
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt is another fetch
  useEffect(() => {
    if (isSignedOut) return
    setTrouble(undefined)
    void device.openRun(address).then((asked) => setTrouble(sayTrouble(asked)))
  }, [device, address.run, address.workspaceId, isSignedOut, attempt])
  return (
    <PlainFrame>
      <h1>Bench</h1>
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
            next={<Button onClick={() => setAttempt(attempt + 1)}>Try again</Button>}
          />
        ) : (
          <p role="status" className="text-soft">
            Fetching the run …
          </p>
        )}
        <a href="/bench" className={buttonStyle({ kind: 'quiet' })}>
          What this device has
        </a>
      </div>
    </PlainFrame>
  )
}

function sayTrouble(asked: Awaited<ReturnType<BenchDevice['openRun']>>): Trouble | undefined {
  if (asked.kind === 'refused')
    return { what: asked.message, why: 'Open a run from its clutch, where you see what is yours.' }
  if (asked.kind === 'offline')
    return {
      what: 'This run is not on this device yet, and there is no connection.',
      why: 'A run that was opened here once works without a connection.',
    }
  if (asked.kind === 'failed')
    return { what: 'The service could not say how the run stands.', why: 'Try again in a minute.' }
  return undefined
}
