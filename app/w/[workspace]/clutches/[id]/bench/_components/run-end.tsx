'use client'

import { useEffect, useRef } from 'react'
import { BenchEnd } from '@/components/bench/bench-end'
import { Button } from '@/components/ui/button'
import { buttonStyle } from '@/components/ui/button-style'
import { LinkButton } from '@/components/ui/link-button'
import { BenchTrouble } from './bench-trouble'
import { type BenchRunProps, sayLabelRange, type useBenchRun } from './use-bench-run'

type Props = {
  run: BenchRunProps
  bench: ReturnType<typeof useBenchRun>
  isFinished: boolean
  onGoOn: () => void
}

/** What was done, what stays together and why, and the labels, once everything has arrived. */
export function RunEnd({ run, bench, isFinished, onGoOn }: Props) {
  const { standing, waiting } = bench
  const hasFinished = useRef(isFinished)
  const { finish } = bench
  useEffect(() => {
    if (hasFinished.current) return
    hasFinished.current = true
    finish()
  }, [finish])
  const base = `/w/${run.workspace}/clutches/${run.clutch.id}`
  const staying =
    standing.together > 0 ? [{ count: standing.together, reason: run.deadline || 'as far as is known' }] : []
  const mayPrint = standing.housed > 0 && waiting.length === 0
  return (
    <div className="py-4">
      <BenchTrouble bench={bench} />
      <BenchEnd
        housed={standing.housed}
        dead={standing.dead}
        escaped={standing.escaped}
        labelRange={sayLabelRange(run, bench.entries)}
        staying={staying}
        waitingCount={waiting.length}
        actions={
          <>
            {mayPrint ? (
              <a href={`${base}/bench/${run.run.id}/labels.pdf`} className={buttonStyle({ kind: 'filled' })}>
                Print labels
              </a>
            ) : null}
            <LinkButton href={base} kind={mayPrint ? 'plain' : 'filled'}>
              To the clutch
            </LinkButton>
            <Button kind="quiet" onClick={onGoOn}>
              Go on
            </Button>
          </>
        }
      />
    </div>
  )
}
