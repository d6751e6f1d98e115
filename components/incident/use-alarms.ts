'use client'

import { useCallback, useEffect, useRef, useState } from 'react'
import { z } from 'zod'
import type { Alarm } from '@/lib/features/incident/loaders'

const EVERY_MS = 5_000
/** So many askings without an answer are no hiccup any more. */
const CUT_OFF_AFTER = 4

const alarmSchema = z.strictObject({
  id: z.string(),
  kind: z.enum(['too_hot', 'too_cold', 'silent']),
  said: z.string(),
  span: z.string(),
  version: z.number(),
})
const barSchema = z.strictObject({ version: z.string(), alarms: z.array(alarmSchema) })

export type Alarms = {
  alarms: Alarm[]
  /** Nothing has answered for a while: this page cannot tell whether a zone wants somebody. */
  isCutOff: boolean
  ask: () => void
}

/** Asks every few seconds, while the page is looked at, whether a zone wants somebody. */
export function useAlarms(workspace: string): Alarms {
  const [alarms, setAlarms] = useState<Alarm[]>([])
  const [unanswered, setUnanswered] = useState(0)
  const version = useRef('')
  const ask = useCallback(() => {
    if (document.visibilityState === 'hidden') return
    askBar(workspace, version.current).then(
      (bar) => {
        setUnanswered(0)
        if (bar === 'as-before') return
        version.current = bar.version
        setAlarms(bar.alarms)
      },
      () => setUnanswered((count) => count + 1),
    )
  }, [workspace])
  useEffect(() => {
    ask()
    const timer = setInterval(ask, EVERY_MS)
    document.addEventListener('visibilitychange', ask)
    return () => {
      clearInterval(timer)
      document.removeEventListener('visibilitychange', ask)
    }
  }, [ask])
  return { alarms, isCutOff: unanswered >= CUT_OFF_AFTER, ask }
}

/** @throws where nothing answers, or somebody else does: a proxy, the page for signing in */
async function askBar(workspace: string, version: string) {
  if (!navigator.onLine) throw new Error('there is no connection')
  const answer = await fetch(`/w/${workspace}/alarm?version=${encodeURIComponent(version)}`, {
    cache: 'no-store',
    redirect: 'manual',
  })
  if (answer.status === 204) return 'as-before' as const
  return barSchema.parse(await answer.json())
}
