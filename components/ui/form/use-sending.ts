'use client'

import { unstable_isUnrecognizedActionError } from 'next/navigation'
import { useRef, useState } from 'react'
import type { ActionCall, ActionResult } from '@/lib/platform/action-result'

/** Any server action, as the form sees it. */
export type Action<T> = (call: ActionCall) => Promise<ActionResult<T>>

/** What stands on the screen after a sending that was not simply done. */
export type Outcome =
  | { kind: 'none' }
  | { kind: 'connection' }
  | { kind: 'no-answer' }
  | { kind: 'older-build' }
  | { kind: 'signed-out' }
  | { kind: 'failed'; reference: string }
  | { kind: 'refused'; code: string; message: string; present?: unknown }

export type Sent<T> = { outcome: Outcome; result?: ActionResult<T> }

const SLOW_AFTER_MS = 6_000

/**
 * An action can also be thrown instead of answered. A digest is the mark of an error that the server itself
 * reported; a TypeError is what the browser makes of a connection that is gone; anything else is an answer
 * from something that is not the service (a proxy whose server restarts).
 */
export function nameThrown(thrown: unknown, isOnline: boolean): Outcome {
  if (unstable_isUnrecognizedActionError(thrown)) return { kind: 'older-build' }
  if (thrown instanceof Error && 'digest' in thrown)
    return { kind: 'failed', reference: String(thrown.digest) }
  if (!isOnline || thrown instanceof TypeError) return { kind: 'connection' }
  return { kind: 'no-answer' }
}

function nameResult<T>(result: ActionResult<T>): Outcome {
  if (result.status === 'signed-out') return { kind: 'signed-out' }
  if (result.status === 'failed') return { kind: 'failed', reference: result.reference }
  if (result.status === 'refused') {
    return { kind: 'refused', code: result.code, message: result.message, present: result.present }
  }
  return { kind: 'none' }
}

type Options<T> = { action: Action<T>; workspace: string }

/**
 * Sends, and keeps the operation id for as long as it is not known whether the sending had its effect. Only an
 * answer that says so ("done", "refused") ends the operation and makes a new id.
 */
export function useSending<T>({ action, workspace }: Options<T>) {
  const operationId = useRef<string | null>(null)
  const isUnderWay = useRef(false)
  const [isSending, setSending] = useState(false)
  const [isSlow, setSlow] = useState(false)
  const [outcome, setOutcome] = useState<Outcome>({ kind: 'none' })

  function getOperationId(): string {
    operationId.current ??= crypto.randomUUID()
    return operationId.current
  }

  async function attempt(input: unknown): Promise<Sent<T>> {
    try {
      const result = await action({ workspace, operationId: getOperationId(), input })
      if (result.status === 'done' || result.status === 'refused') operationId.current = null
      return { outcome: nameResult(result), result }
    } catch (thrown) {
      return { outcome: nameThrown(thrown, navigator.onLine) }
    }
  }

  /** Undefined when a sending is under way already: the second touch of a button is not a second wish. */
  async function send(input: unknown): Promise<Sent<T> | undefined> {
    if (isUnderWay.current) return undefined
    isUnderWay.current = true
    setSending(true)
    setOutcome({ kind: 'none' })
    const slow = setTimeout(() => setSlow(true), SLOW_AFTER_MS)
    const sent = await attempt(input)
    clearTimeout(slow)
    isUnderWay.current = false
    setSlow(false)
    setSending(false)
    setOutcome(sent.outcome)
    return sent
  }

  return {
    send,
    isSending,
    isSlow,
    outcome,
    clear: () => setOutcome({ kind: 'none' }),
    getOperationId,
    /** A draft brings its operation along. */
    takeOperationId: (id: string) => {
      operationId.current = id
    },
  }
}
