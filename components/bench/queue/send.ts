import { type Entry, inOrder, type Operation } from './entry'

type Answer = {
  id: string
  status: 'applied' | 'already-applied' | 'refused'
  label?: string
  code?: string
  message?: string
  present?: unknown
}

export type Sending =
  | { kind: 'answered'; answers: Answer[] }
  | { kind: 'offline' }
  | { kind: 'signed-out' }
  | { kind: 'failed' }

/** As many as the service takes at once. */
export const PER_SENDING = 50

function readAnswers(body: unknown): Answer[] | undefined {
  if (typeof body !== 'object' || body === null || !('answers' in body) || !Array.isArray(body.answers))
    return undefined
  return body.answers.every((answer) => typeof answer?.id === 'string' && typeof answer?.status === 'string')
    ? body.answers
    : undefined
}

/** Sends operations in order. Whatever is not an answer leaves everything as it was, to be sent again. */
export async function sendOperations(operations: readonly Operation[]): Promise<Sending> {
  let response: Response
  try {
    response = await fetch('/api/bench', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ operations }),
    })
  } catch {
    // The browser's word for a connection that is gone.
    return { kind: 'offline' }
  }
  if (response.status === 401) return { kind: 'signed-out' }
  if (!response.ok) return { kind: 'failed' }
  const answers = readAnswers(await response.json().catch(() => undefined)) // cut off on its way: no answer
  return answers ? { kind: 'answered', answers } : { kind: 'failed' }
}

/**
 * What can be sent now: this person's taps in order. A run with a refused tap waits for the keeper's word, the other
 * runs do not.
 */
export function listSendable(entries: readonly Entry[], personId: string): Entry[] {
  const stopped = new Set(entries.filter(({ state }) => state === 'refused').map(({ run }) => run))
  const sendable = entries.filter(
    ({ state, run, operation, tap }) =>
      state === 'waiting' && !tap.isDropped && operation.personId === personId && !stopped.has(run),
  )
  return inOrder(sendable).slice(0, PER_SENDING)
}

/** The entries after an answer. What was held back only because of another one keeps waiting. */
export function settleEntries(sent: readonly Entry[], answers: readonly Answer[]): Entry[] {
  const answerOf = new Map(answers.map((answer) => [answer.id, answer]))
  return sent.flatMap((entry): Entry[] => {
    const answer = answerOf.get(entry.operation.id)
    if (!answer || answer.code === 'held-back') return []
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
