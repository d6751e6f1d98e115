import type { z } from 'zod'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { readInput } from '@/lib/platform/input'
import type { Scope } from '@/lib/platform/workspace'

/** Who is signed in on the device, and everything they may do today, workspace by workspace. */
export type DevicePerson = { personId: string; scopes: readonly Scope[] }

/** What became of one thing that a device had queued. */
export type QueueAnswer =
  | { id: string; status: 'applied' | 'already-applied'; label?: string }
  | { id: string; status: 'refused'; code: string; message: string; present?: unknown }

/** Why an entry was not judged at all: it waits for another person, or for a membership that has ended. */
export type NotNow = 'other-person' | 'not-a-member' | 'not-allowed'

/** `heldBy`: the field that says which entries stand on top of each other. */
export type Queue<S extends z.ZodType> = {
  where: string
  schema: S
  heldBy: string
  apply: (entry: z.output<S>) => Promise<QueueAnswer>
}

/**
 * Answers what a device has queued, in its order. A refused entry holds back the later ones that stand on top of it;
 * the others go on. Each one is judged by itself: one that cannot be read does not hold up the others.
 */
export async function answerQueue<S extends z.ZodType>(
  entries: readonly unknown[],
  queue: Queue<S>,
): Promise<QueueAnswer[]> {
  const held = new Set<string>()
  const answers: QueueAnswer[] = []
  for (const sent of entries) {
    const answer = await answerEntry(sent, queue, held)
    if (answer.status === 'refused') held.add(textOf(sent, queue.heldBy))
    answers.push(answer)
  }
  return answers
}

async function answerEntry<S extends z.ZodType>(
  sent: unknown,
  { where, schema, heldBy, apply }: Queue<S>,
  held: ReadonlySet<string>,
): Promise<QueueAnswer> {
  const id = textOf(sent, 'id')
  if (held.has(textOf(sent, heldBy)))
    return refused(id, { code: 'held-back', message: 'An earlier entry was refused.' })
  const read = readInput(schema, sent)
  if (read.status === 'invalid')
    return refused(id, { code: 'invalid', message: 'The service does not understand this entry.' })
  try {
    return await apply(read.data)
  } catch (error) {
    const failure = readFailure(error, where)
    if ('refusal' in failure) return refused(id, failure.refusal)
    throw error
  }
}

function textOf(sent: unknown, key: string): string {
  if (typeof sent !== 'object' || sent === null) return ''
  const value = new Map<string, unknown>(Object.entries(sent)).get(key)
  return typeof value === 'string' ? value : ''
}

function refused(id: string, why: { code: string; message: string; present?: unknown }): QueueAnswer {
  return { id, status: 'refused', code: why.code, message: why.message, present: why.present ?? null }
}

/**
 * Where an entry may be recorded: under the name of whoever made it, or not at all.
 * @throws AppError with the reason in `present`: the device keeps the entry for whom it belongs to
 */
export function admitEntry(
  person: DevicePerson,
  entry: { personId: string; workspaceId: string },
  isAllowed: (scope: Scope) => boolean,
): Scope {
  if (entry.personId !== person.personId)
    throw notNow(
      'forbidden',
      'other-person',
      'This was tapped by somebody else, who has to sign in to send it.',
    )
  const scope = person.scopes.find(({ workspaceId }) => workspaceId === entry.workspaceId)
  if (!scope) throw notNow('not-found', 'not-a-member', 'You do not belong to that workspace now.')
  if (!isAllowed(scope))
    throw notNow('forbidden', 'not-allowed', 'Your role there does not include this now.')
  return scope
}

function notNow(code: 'forbidden' | 'not-found', reason: NotNow, message: string): AppError {
  return new AppError(code, message, { present: { reason } })
}
