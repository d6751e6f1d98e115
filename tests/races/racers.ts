import { seededStream } from '@/lib/domain/random/seeded'
import type { Rack } from '@/tests/support/rack'
import { makeToken } from '@/tests/support/workspaces'

export const EIGHT = 8
export const SEED = process.env.TEST_SEED ?? '1'
/** A long run takes as many rounds of each race as a short one takes of the sale. */
export const ROUNDS = process.env.TEST_LONG ? 200 : 20

// biome-ignore lint/suspicious/noExplicitAny: an answer is read by the race that knows its shape
export type Answer = { status: number; body: any }
type Sending = { path: string; body: unknown; key?: string }

/** Eight tills of one workspace, each with a token of its own. */
export type Racers = {
  send: (racer: number, sending: Sending) => Promise<Answer>
  race: (sendings: Sending[]) => Promise<Answer[]>
}

/** Callers that start in an order drawn from the seed, which the report names. */
export async function makeRacers(address: string, rack: Rack): Promise<Racers> {
  const tokens: string[] = []
  for (let till = 0; till < EIGHT; till++) tokens.push(await makeToken(rack.owner, 'owner'))
  const stream = seededStream(`races ${SEED}`)
  const sendOnce = async (racer: number, { path, body, key }: Sending): Promise<Response> => {
    return fetch(`${address}/api/v1${path}`, {
      method: 'POST',
      headers: {
        authorization: `Bearer ${tokens[racer % EIGHT]}`,
        'content-type': 'application/json',
        ...(key ? { 'idempotency-key': key } : {}),
      },
      body: JSON.stringify(body),
    })
  }
  // On a machine that is busy with other things somebody is told to come back; a till does, as the answer says.
  const send = async (racer: number, sending: Sending): Promise<Answer> => {
    for (let attempt = 1; ; attempt++) {
      const response = await sendOnce(racer, sending)
      if (response.status !== 503 || attempt >= 10)
        return { status: response.status, body: await response.json() }
      await response.body?.cancel()
      await new Promise((resolve) => setTimeout(resolve, Number(response.headers.get('retry-after')) * 1000))
    }
  }
  const race = (sendings: Sending[]) => {
    const order = stream.shuffle(sendings.map((sending, racer) => ({ sending, racer })))
    return Promise.all(order.map(({ sending, racer }) => send(racer, sending)))
  }
  return { send, race }
}

/** How often each answer was given, winners first: `201 × 1, 409 already-gone × 7`. */
export function countAnswers(answers: Answer[]): string {
  const said = answers.map(({ status, body }) => (status < 300 ? `${status}` : `${status} ${codeOf(body)}`))
  const counts = new Map<string, number>()
  for (const each of said) counts.set(each, (counts.get(each) ?? 0) + 1)
  return [...counts]
    .sort()
    .map(([each, count]) => `${each} × ${count}`)
    .join(', ')
}

const codeOf = (problem: { type?: string }) => problem.type?.replace('/problems/', '') ?? 'unknown'
