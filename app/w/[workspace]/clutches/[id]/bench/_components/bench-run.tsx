'use client'

import { useEffect, useState } from 'react'
import { Bench } from '@/components/bench/bench'
import { useSignInDialog } from '@/components/ui/form/sign-in-slot'
import type { BenchTap } from '@/lib/domain/separation/bench-run'
import { BenchTrouble } from './bench-trouble'
import { RunEnd } from './run-end'
import { type BenchRunProps, labelOf, useBenchRun } from './use-bench-run'

/** The bench of one run: counts at once, whatever the connection does. */
export function BenchRun(props: BenchRunProps) {
  const bench = useBenchRun(props)
  const [isEnding, setEnding] = useState(props.run.isFinished)
  const SignInDialog = useSignInDialog()
  const { state, standing, waiting } = bench
  const isUnsafeToLeave = waiting.length > 0 && !state.isLasting
  useEffect(() => {
    if (!isUnsafeToLeave) return undefined
    const hold = (event: BeforeUnloadEvent) => event.preventDefault()
    window.addEventListener('beforeunload', hold)
    return () => window.removeEventListener('beforeunload', hold)
  }, [isUnsafeToLeave])
  // A tap on top of taps that are not read yet would take a label that is on a cup already.
  if (state.entries === null)
    return (
      <p role="status" className="py-10 text-soft">
        Reading what this device has kept …
      </p>
    )
  if (isEnding)
    return (
      <RunEnd
        run={props}
        bench={bench}
        onGoOn={() => setEnding(false)}
        isFinished={bench.entries.some(({ tap }) => tap.kind === 'finish') || props.run.isFinished}
      />
    )
  return (
    <>
      <Bench
        clutchCode={props.clutch.label}
        scientificName={props.clutch.scientificName}
        counts={{ ...standing, planned: props.run.planned }}
        nextLabel={labelOf(props, standing.nextNumber)}
        containerKinds={props.kinds}
        containerKindId={bench.kindId}
        onChooseKind={bench.setKindId}
        lastEntry={standing.last && sayTap(props, standing.last)}
        onTap={bench.cup}
        onDead={bench.dead}
        onEscaped={bench.escaped}
        onUndo={bench.undo}
        onFinish={() => setEnding(true)}
        connection={state.connection}
        waitingCount={waiting.length}
      />
      <BenchTrouble bench={bench} />
      {SignInDialog && state.isSignedOut ? (
        <SignInDialog isOpen onSignedIn={bench.sendAgain} onGiveUp={bench.pause} />
      ) : null}
    </>
  )
}

/** What Undo would take back, in words. */
function sayTap(props: BenchRunProps, tap: BenchTap): string {
  if (tap.kind !== 'cup') return tap.kind === 'dead' ? '1 dead' : '1 escaped'
  const label = labelOf(props, tap.number)
  return [label ?? 'a cup', tap.containerName ? `in ${tap.containerName}` : ''].filter(Boolean).join(' ')
}
