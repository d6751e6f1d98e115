import type { BenchWho } from '@/lib/features/bench/schema'
import { type Asked, ask } from '../../offline/ask'
import { type Entry, inOrder, type Operation } from './entry'

export type Answer = {
  id: string
  status: 'applied' | 'already-applied' | 'refused'
  label?: string
  code?: string
  message?: string
  present?: unknown
}

/** As many as the service takes at once. */
export const PER_SENDING = 50

export function readAnswers(body: unknown): Answer[] | undefined {
  if (typeof body !== 'object' || body === null || !('answers' in body) || !Array.isArray(body.answers))
    return undefined
  return body.answers.every((answer) => typeof answer?.id === 'string' && typeof answer?.status === 'string')
    ? body.answers
    : undefined
}

/** Sends operations in order. Whatever is not an answer leaves everything as it was, to be sent again. */
export function sendOperations(operations: readonly Operation[]): Promise<Asked<Answer[]>> {
  return ask('/api/bench', readAnswers, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ operations }),
  })
}

/** Whose an entry is, seen from who is signed in. Only `own` is sent; the others wait, and are named. */
export function ownership({ operation }: Entry, who: BenchWho | null): 'own' | 'other-person' | 'not-here' {
  if (operation.personId !== who?.person.id) return 'other-person'
  const mayCount = who.workspaces.some(({ id, mayCount: may }) => may && id === operation.workspaceId)
  return mayCount ? 'own' : 'not-here'
}

/**
 * What can be sent now: the taps of who is signed in, in order. A run with a refused tap waits for the keeper's word,
 * the other runs do not.
 */
export function listSendable(entries: readonly Entry[], who: BenchWho | null): Entry[] {
  const isStopping = ({ state, tap }: Entry) => state === 'refused' && !tap.isDropped
  const stopped = new Set(entries.filter(isStopping).map(({ run }) => run))
  const sendable = entries.filter(
    (entry) =>
      entry.state === 'waiting' &&
      !entry.tap.isDropped &&
      ownership(entry, who) === 'own' &&
      !stopped.has(entry.run),
  )
  return inOrder(sendable).slice(0, PER_SENDING)
}

/** The service did not judge an entry, and says why: somebody else is signed in, or the membership has ended. */
export function isNotJudged({ present }: Answer): boolean {
  return typeof present === 'object' && present !== null && 'reason' in present
}

/** The entries after an answer. What was held back or not judged keeps waiting. */
export function settleEntries(sent: readonly Entry[], answers: readonly Answer[]): Entry[] {
  const answerOf = new Map(answers.map((answer) => [answer.id, answer]))
  return sent.flatMap((entry): Entry[] => {
    const answer = answerOf.get(entry.operation.id)
    if (!answer || answer.code === 'held-back' || isNotJudged(answer)) return []
    if (answer.status !== 'refused')
      return [{ ...entry, state: 'sent', ...(answer.label ? { label: answer.label } : {}) }]
    const refusal = {
      code: answer.code ?? 'refused',
      message: answer.message ?? 'The service refused this entry.',
      present: answer.present,
    }
    return [{ ...entry, state: 'refused', refusal }]
  })
}
