'use client'

import { useEffect, useState } from 'react'
import type { BenchDevice, DeviceState } from '@/components/bench/queue/bench-device'
import { Opening, type Trouble, troubleOf } from '@/components/offline/opening'
import type { BenchAddress } from './use-bench-address'

type Props = { device: BenchDevice; state: DeviceState; address: BenchAddress }

/** Fetches a run that is not on this device yet. It takes a connection, once. */
export function OpeningRun({ device, state, address }: Props) {
  const [trouble, setTrouble] = useState<Trouble>()
  const [attempt, setAttempt] = useState(0)
  const { isSignedOut } = state
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt is another fetch
  useEffect(() => {
    if (isSignedOut) return
    setTrouble(undefined)
    void device.openRun(address).then((asked) => setTrouble(troubleOf(asked, WORDS)))
  }, [device, address.run, address.workspaceId, isSignedOut, attempt])
  return (
    <Opening
      title="Bench"
      fetching="Fetching the run …"
      home="/bench"
      {...{ isSignedOut, trouble }}
      onSignIn={() => device.setSigningIn(true)}
      onRetry={() => setAttempt(attempt + 1)}
    />
  )
}

const WORDS = {
  refusedWhy: 'Open a run from its clutch, where you see what is yours.',
  offline: {
    what: 'This run is not on this device yet, and there is no connection.',
    why: 'A run that was opened here once works without a connection.',
  },
  failed: 'The service could not say how the run stands.',
}
