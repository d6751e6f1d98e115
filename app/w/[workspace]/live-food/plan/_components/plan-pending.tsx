'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'

const ASK_AGAIN_MS = 2500

/** How far the plan is; asks again until it is there. */
export function PlanPending({ progress, isTrial }: { progress: number; isTrial: boolean }) {
  const router = useRouter()
  useEffect(() => {
    const timer = setInterval(() => router.refresh(), ASK_AGAIN_MS)
    return () => clearInterval(timer)
  }, [router])
  const stage =
    progress < 0.05 ? 'waits for its turn' : progress < 0.4 ? 'counts animals and jars' : 'plays the futures'
  return (
    <div role="status" className="mt-4 max-w-xl">
      <p className="font-semibold">
        {isTrial ? 'The trial' : 'The plan'} {stage} …
      </p>
      <progress aria-label="Progress of the plan" value={progress} max={1} className="w-full" />
      <p className="text-small text-soft">You may leave this page; it goes on by itself.</p>
    </div>
  )
}
