'use client'

import { useEffect, useState } from 'react'
import { Bench } from '@/components/bench/bench'
import type { KeptRun } from '@/components/bench/queue/entry'
import type { PageCopy } from '@/components/offline/use-page-copy'
import type { BenchTap } from '@/lib/domain/separation/bench-run'
import { BenchAlarms } from './bench-alarms'
import { BenchTrouble } from './bench-trouble'
import { RunEnd } from './run-end'
import { labelOf, type OpenRun, useBenchRun } from './use-bench-run'

/** The bench of one run: counts at once, whatever the connection does. */
export function BenchRun(open: OpenRun & { copy: PageCopy }) {
  const { kept, state } = open
  const bench = useBenchRun(open)
  const isFinished = kept.run.isFinished || bench.entries.some(({ tap }) => tap.kind === 'finish')
  const [isEnding, setEnding] = useState(isFinished)
  const { standing, waiting } = bench
  useHold(waiting.length > 0 && !state.isLasting)
  if (isEnding)
    return <RunEnd open={open} bench={bench} onGoOn={() => setEnding(false)} isFinished={isFinished} />
  return (
    <Bench
      clutchCode={kept.clutch.label}
      scientificName={kept.clutch.scientificName}
      counts={{ ...standing, planned: kept.run.planned }}
      nextLabel={labelOf(kept, standing.nextNumber)}
      containerKinds={kept.kinds}
      containerKindId={bench.kindId}
      onChooseKind={bench.setKindId}
      lastEntry={standing.last && sayTap(kept, standing.last)}
      onTap={bench.cup}
      onDead={bench.dead}
      onEscaped={bench.escaped}
      onUndo={bench.undo}
      onFinish={() => setEnding(true)}
      connection={state.connection}
      waitingCount={waiting.length}
      needsConnection={open.copy === 'plain-http'}
      notice={
        <>
          <BenchAlarms state={state} workspaceId={kept.workspace.id} />
          <BenchTrouble open={open} bench={bench} />
        </>
      }
    />
  )
}

/** Where nothing is kept on disk, the page is not left by accident. */
function useHold(isUnsafeToLeave: boolean): void {
  useEffect(() => {
    if (!isUnsafeToLeave) return undefined
    const hold = (event: BeforeUnloadEvent) => event.preventDefault()
    window.addEventListener('beforeunload', hold)
    return () => window.removeEventListener('beforeunload', hold)
  }, [isUnsafeToLeave])
}

/** What Undo would take back, in words. */
function sayTap(kept: KeptRun, tap: BenchTap): string {
  if (tap.kind !== 'cup') return tap.kind === 'dead' ? '1 dead' : '1 escaped'
  const label = labelOf(kept, tap.number)
  return [label ?? 'a cup', tap.containerName ? `in ${tap.containerName}` : ''].filter(Boolean).join(' ')
}
