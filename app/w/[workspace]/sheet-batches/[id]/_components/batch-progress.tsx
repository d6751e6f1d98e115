'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import { Notice } from '@/components/ui/notice'
import type { SheetBatchRow } from '@/lib/features/sheet-batch/data'
import { SetAgain } from './set-again'

const ASK_AGAIN_MS = 2_000

/** A bar and the same in words; asks again until all are set. */
export function BatchProgress({ workspace, batch }: { workspace: string; batch: SheetBatchRow }) {
  const router = useRouter()
  const { id, done, total, failure } = batch
  const isUnderWay = done < total && failure === null
  useEffect(() => {
    if (!isUnderWay) return
    const timer = setInterval(() => router.refresh(), ASK_AGAIN_MS)
    return () => clearInterval(timer)
  }, [isUnderWay, router])
  if (failure)
    return (
      <div className="mt-6">
        <Notice
          state="late"
          what={`The sheets could not all be set: ${failure}`}
          next={<SetAgain workspace={workspace} batch={id} label="Set them again" />}
        />
      </div>
    )
  return (
    <div className="mt-6 max-w-xl">
      <progress max={total} value={done} aria-label="Sheets set" className="h-3 w-full accent-fine" />
      <p role="status" className="mt-1">
        {isUnderWay ? `${done} of ${total} sheets are ready.` : saySet(total)}
      </p>
    </div>
  )
}

function saySet(total: number): string {
  return total === 1 ? 'The sheet is set.' : `All ${total} sheets are set.`
}
