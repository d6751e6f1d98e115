'use client'

import { useEffect, useRef, useState } from 'react'
import type { SeparationPlanPage, SettledPlan } from '@/lib/features/separation-plan/loaders'
import { type Sliders, writeSliders } from '@/lib/features/separation-plan/schema'

/** `quick`: worked out here while a slider moves. `failed`: the service did not answer, and the quick plan stands. */
export type SettledState = 'quick' | 'settled' | 'failed'

/** So long a slider has to rest before the service is asked. */
const REST_MS = 350

/** The program's plan for the sliders as they stand; null until it is there. */
export function useSettledPlan(
  workspace: string,
  sliders: Sliders,
  page: SeparationPlanPage,
): { settled: SettledPlan | null; state: SettledState } {
  const asked = writeSliders(sliders)
  const [answer, setAnswer] = useState<{ asked: string; page: unknown; plan: SettledPlan | null } | null>(
    null,
  )
  const isFirst = useRef(true)
  useEffect(() => {
    const stop = new AbortController()
    const ask = async () => {
      const plan = await fetchPlan(`/w/${workspace}/separation-plan/settled?${asked}`, stop.signal)
      if (!stop.signal.aborted) setAnswer({ asked, page, plan })
    }
    const timer = setTimeout(ask, isFirst.current ? 0 : REST_MS)
    isFirst.current = false
    return () => {
      clearTimeout(timer)
      stop.abort()
    }
  }, [workspace, asked, page])
  if (answer?.asked !== asked || answer.page !== page) return { settled: null, state: 'quick' }
  return { settled: answer.plan, state: answer.plan ? 'settled' : 'failed' }
}

/** Null without a connection, without a session, or when the service is at its end. */
async function fetchPlan(address: string, signal: AbortSignal): Promise<SettledPlan | null> {
  try {
    const response = await fetch(address, { signal, headers: { accept: 'application/json' } })
    const isPlan = response.ok && response.headers.get('content-type')?.includes('json')
    return isPlan ? await response.json() : null
  } catch (error) {
    if (!signal.aborted) console.warn('the plan could not be asked for', error)
    return null
  }
}
