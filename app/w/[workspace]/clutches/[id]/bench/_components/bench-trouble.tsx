'use client'

import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import type { useBenchRun } from './use-bench-run'

type BenchState = ReturnType<typeof useBenchRun>

/** What the keeper has to decide, above the bench. Nothing is thrown away without being asked. */
export function BenchTrouble({ bench }: { bench: BenchState }) {
  const { refused, state, waiting } = bench
  if (!refused && state.isLasting) return null
  return (
    <div className="fixed inset-x-0 top-0 z-50 mx-auto max-w-xl p-3">
      {refused ? (
        <Notice
          state="late"
          isAnnounced
          what={refused.refusal?.message ?? 'An entry was refused.'}
          why={`${waiting.length} ${waiting.length === 1 ? 'entry waits' : 'entries wait'} on this device. Nothing is lost.`}
          next={
            <>
              {refused.refusal?.code === 'more-than-left' ? (
                <Button onClick={() => bench.raise(refused)}>There were more: raise the count</Button>
              ) : null}
              <Button kind="quiet" onClick={() => bench.drop(refused)}>
                Leave this entry out
              </Button>
              <Button kind="quiet" onClick={() => saveAsFile(waiting)}>
                Save them as a file
              </Button>
            </>
          }
        />
      ) : (
        <Notice
          state="due"
          what="This browser keeps nothing on the device."
          why="Leave the page open until everything has been sent."
        />
      )}
    </div>
  )
}

function saveAsFile(waiting: BenchState['waiting']): void {
  const text = JSON.stringify(
    waiting.map(({ operation }) => operation),
    null,
    2,
  )
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
  link.download = 'bench-entries.json'
  link.click()
  URL.revokeObjectURL(link.href)
}
