'use client'

import { useBenchDevice } from '@/components/bench/queue/use-bench-device'
import { usePageCopy } from '@/components/offline/use-page-copy'
import { SignInAgain } from '@/components/session/sign-in-again'
import { BenchRun } from './bench-run'
import { KeptRuns } from './kept-runs'
import { OpeningRun } from './opening-run'
import { useBenchAddress } from './use-bench-address'

/** The bench of this device: the run that its address names, or what is kept here. */
export function BenchScreen({ isBuilt }: { isBuilt: boolean }) {
  const { device, state } = useBenchDevice()
  const copy = usePageCopy('/bench', isBuilt)
  const address = useBenchAddress()
  const { entries, runs, who } = state
  // A tap on top of taps that are not read yet would take a label that is on a cup already.
  if (entries === null || address === undefined)
    return (
      <p role="status" className="px-4 py-10 text-soft">
        Reading what this device has kept …
      </p>
    )
  const own = runs.findLast(
    ({ run, person }) => run.id === address?.run && (who === null || person.id === who.person.id),
  )
  return (
    <>
      {address === null ? (
        <KeptRuns state={state} copy={copy} onSignIn={() => device.setSigningIn(true)} />
      ) : own ? (
        <BenchRun
          key={`${own.run.id} ${own.person.id}`}
          kept={own}
          device={device}
          state={state}
          copy={copy}
        />
      ) : (
        <OpeningRun key={who?.person.id} device={device} state={state} address={address} />
      )}
      <SignInAgain
        isOpen={state.isSigningIn}
        email={who?.person.email}
        onSignedIn={() => void device.signedIn()}
        onGiveUp={() => device.setSigningIn(false)}
      />
    </>
  )
}
