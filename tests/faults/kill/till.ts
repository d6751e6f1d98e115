import { randomUUID } from 'node:crypto'
import type { SeededStream } from '@/lib/domain/random/seeded'
import type { Rack } from '@/tests/support/rack'

// biome-ignore lint/suspicious/noExplicitAny: an answer is read by the kind of request that knows its shape
type Body = any
export type Kind = keyof typeof KINDS
export type Asked = { key: string; kind: Kind; path: string; body: Body }
export type Answer = { status: number; body: Body }
/** What was asked for under one key, and what was said to it; nothing was when the line broke or the service did. */
export type Line = { asked: Asked; answer: Answer | null }

/** What the tills have been told is there. */
export type Known = { eggCases: string[]; clutches: string[]; animals: string[]; sales: string[] }
export const knowNothing = (): Known => ({ eggCases: [], clutches: [], animals: [], sales: [] })

type Place = { rack: Rack; known: Known; stream: SeededStream }
type Writing = {
  weight: number
  needs?: keyof Known
  ask(place: Place, id: string): { path: string; body: Body }
  learn?(known: Known, body: Body): void
}

const day = ({ rack, stream }: Place, from: number, to: number) => rack.day(stream.integer(from, to))
const inCups = ({ rack }: Place) => ({ containerKind: rack.cup, zone: rack.zone })
const takeOut = (list: string[], id: string) =>
  list.splice(0, list.length, ...list.filter((each) => each !== id))

const KINDS = {
  eggCase: {
    weight: 3,
    ask: (place) => ({
      path: '/egg-cases',
      body: { species: 'creobroter-spp', zone: place.rack.zone, laidOn: day(place, -90, -60) },
    }),
    learn: (known, body) => known.eggCases.push(body.id),
  },
  hatch: {
    weight: 3,
    needs: 'eggCases',
    ask: (place, id) => ({
      path: `/egg-cases/${id}/hatches`,
      body: { on: day(place, -40, -30), count: place.stream.integer(4, 40) },
    }),
    learn: (known, body) => known.clutches.push(body.clutch.id),
  },
  separation: {
    weight: 4,
    needs: 'clutches',
    ask: (place, id) => ({
      path: `/clutches/${id}/separations`,
      body: { on: day(place, -20, -15), count: place.stream.integer(1, 6), ...inCups(place) },
    }),
    learn: (known, body) => known.animals.push(...body.individuals.map(({ id }: { id: string }) => id)),
  },
  loss: {
    weight: 2,
    needs: 'clutches',
    ask: (place, id) => ({
      path: `/clutches/${id}/losses`,
      body: { on: day(place, -14, -10), count: place.stream.integer(1, 2), cause: 'unknown' },
    }),
  },
  moult: {
    weight: 4,
    needs: 'animals',
    ask: (place, id) => ({ path: `/individuals/${id}/moults`, body: { on: day(place, -9, 0) } }),
  },
  look: {
    weight: 1,
    needs: 'animals',
    ask: (place, id) => ({ path: '/looks', body: { on: day(place, -9, 0), individuals: [id] } }),
  },
  death: {
    weight: 1,
    needs: 'animals',
    ask: ({ rack }, id) => ({
      path: `/individuals/${id}/deaths`,
      body: { on: rack.today, cause: 'unknown' },
    }),
    learn: () => {},
  },
  sale: {
    weight: 4,
    needs: 'animals',
    ask: ({ rack }, id) => ({
      path: '/sales',
      body: { on: rack.today, individuals: [id], lines: [{ individual: id, overrideReason: 'a kill' }] },
    }),
    learn: (known, body) => {
      known.sales.push(body.id)
      for (const { individual } of body.lines) takeOut(known.animals, individual)
    },
  },
  reversal: {
    weight: 1,
    needs: 'sales',
    ask: (place, id) => ({
      path: `/sales/${id}/reversal`,
      body: { on: place.rack.today, reason: 'a kill', ...inCups(place) },
    }),
    learn: (known, body) => takeOut(known.sales, body.id),
  },
} satisfies Record<string, Writing>

const NAMES = Object.keys(KINDS) as Kind[]

/** The next thing that somebody does, of those that are possible with what is known to be there. */
function think(place: Place): Asked {
  const possible = NAMES.flatMap((kind) => {
    const { weight, needs }: Writing = KINDS[kind]
    return needs && place.known[needs].length === 0 ? [] : Array<Kind>(weight).fill(kind)
  })
  const kind = place.stream.pick(possible)
  const { needs, ask }: Writing = KINDS[kind]
  const id = needs ? place.stream.pick(place.known[needs]) : ''
  return { key: randomUUID(), kind, ...ask(place, id) }
}

export type Till = { rack: Rack; known: Known; stream: SeededStream; address: string; token: string }

/** Sends it once. `null` where nobody can say whether it was done: no answer, or an error of the service. */
export async function send({ address, token }: Till, { key, path, body }: Asked): Promise<Answer | null> {
  try {
    const response = await fetch(`${address}/api/v1${path}`, {
      method: 'POST',
      headers: {
        authorization: `Bearer ${token}`,
        'content-type': 'application/json',
        'idempotency-key': key,
      },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(60_000),
    })
    const answer = { status: response.status, body: await response.json() }
    return answer.status >= 500 ? null : answer
  } catch {
    return null
  }
}

/** What was confirmed is known from then on. */
export function learn(known: Known, { asked, answer }: Line): void {
  const { learn: take }: Writing = KINDS[asked.kind]
  if (answer?.status === 201) take?.(known, answer.body)
}

/** Works until it is told to stop or until something is not answered: then nobody knows what was done. */
export async function work(till: Till, isOver: () => boolean): Promise<Line[]> {
  const lines: Line[] = []
  while (!isOver()) {
    const asked = think(till)
    const line = { asked, answer: await send(till, asked) }
    lines.push(line)
    learn(till.known, line)
    if (line.answer === null) break
  }
  return lines
}
