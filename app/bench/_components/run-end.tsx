'use client'

import { useEffect, useRef } from 'react'
import { BenchEnd } from '@/components/bench/bench-end'
import { PrintRunLabels } from '@/components/label/print-run-labels'
import { Button } from '@/components/ui/button'
import { buttonStyle } from '@/components/ui/button-style'
import { LatinName } from '@/components/ui/latin-name'
import { listStaying } from '@/lib/domain/separation/staying'
import { BenchAlarms } from './bench-alarms'
import { BenchTrouble } from './bench-trouble'
import { HangingCount } from './hanging-count'
import { type OpenRun, type RunAtBench, sayLabelRange } from './use-bench-run'

type Props = { open: OpenRun; bench: RunAtBench; isFinished: boolean; onGoOn: () => void }

/** What was done, what stays together and why, and the labels, once everything has arrived. */
export function RunEnd({ open, bench, isFinished, onGoOn }: Props) {
  const { kept } = open
  const { standing, waiting } = bench
  const hasFinished = useRef(isFinished)
  const { finish } = bench
  useEffect(() => {
    if (hasFinished.current) return
    hasFinished.current = true
    finish()
  }, [finish])
  useHangingSaid(open, bench)
  const base = `/w/${kept.workspace.slug}/clutches/${kept.clutch.id}`
  const { unsaidHanging, hangingUntil = '', deadline } = kept
  const hanging = unsaidHanging ?? standing.hanging
  const staying = listStaying({ together: standing.together, hanging, hangingUntil, deadline })
  const mayPrint = standing.housed > 0 && waiting.length === 0
  return (
    <main className="mx-auto max-w-[44rem] px-4 py-6">
      <h1 className="mb-4">
        {kept.clutch.label} <LatinName name={kept.clutch.scientificName} />
      </h1>
      <BenchAlarms state={open.state} workspaceId={kept.workspace.id} />
      <BenchTrouble open={open} bench={bench} />
      <BenchEnd
        housed={standing.housed}
        dead={standing.dead}
        escaped={standing.escaped}
        labelRange={bench.isTray ? null : sayLabelRange(kept, bench.entries)}
        isTray={bench.isTray}
        staying={staying}
        hanging={
          standing.together > 0 ? (
            <HangingCount
              hanging={hanging}
              together={standing.together}
              onChange={(next) => void open.device.keepRun({ ...kept, unsaidHanging: next })}
            />
          ) : null
        }
        waitingCount={waiting.length}
        actions={
          <>
            {mayPrint ? (
              <PrintRunLabels
                href={`${base}/bench/${kept.run.id}/labels.pdf`}
                count={bench.isTray ? 1 : standing.housed}
              />
            ) : null}
            {standing.housed > 1 && !bench.isTray ? (
              <Button onClick={bench.keepAsTray}>Keep them as one tray</Button>
            ) : null}
            <a href={base} className={buttonStyle({ kind: mayPrint ? 'plain' : 'filled' })}>
              To the clutch
            </a>
            <Button kind="quiet" onClick={onGoOn}>
              Go on
            </Button>
            <a href="/bench" className={buttonStyle({ kind: 'quiet' })}>
              Other runs
            </a>
          </>
        }
      />
    </main>
  )
}

const SETTLED_MS = 1_500

/** What stands on the counter is said once the finger rests, and after coming back where it did not get so far. */
function useHangingSaid({ kept, device }: OpenRun, { standing, sayHanging }: RunAtBench): void {
  const { unsaidHanging } = kept
  const settle = () => {
    if (unsaidHanging === undefined) return
    if (unsaidHanging !== standing.hanging) sayHanging(unsaidHanging)
    const { unsaidHanging: _, ...said } = kept
    void device.keepRun(said)
  }
  const latest = useRef(settle)
  latest.current = settle
  useEffect(() => {
    if (unsaidHanging === undefined) return undefined
    const timer = setTimeout(() => latest.current(), SETTLED_MS)
    return () => clearTimeout(timer)
  }, [unsaidHanging])
}
